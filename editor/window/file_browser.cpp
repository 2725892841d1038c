#include "editor/window/file_browser.h"

#include <imgui.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <filesystem>

#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace fs = std::filesystem;

namespace pontata {
namespace {

bool ends_as(const std::string& name, const std::vector<std::string>& endings) {
  std::string lower = name;
  std::transform(lower.begin(), lower.end(), lower.begin(), [](unsigned char c) { return std::tolower(c); });
  return endings.empty() || std::any_of(endings.begin(), endings.end(), [&](const std::string& e) {
           return lower.size() > e.size() && lower.compare(lower.size() - e.size(), e.size(), e) == 0;
         });
}

}  // namespace

void FileBrowser::ask(Request request, const std::string& folder) {
  request_ = std::move(request);
  typed_ = request_.name;
  problem_.clear();
  overwrite_.clear();
  std::error_code failed;
  const char* home = std::getenv("HOME");
  enter(fs::is_directory(folder, failed)   ? folder
        : fs::current_path(failed).empty() ? (home ? home : "/")
                                           : fs::current_path().string());
  open_ = opening_ = true;
}

void FileBrowser::enter(const std::string& folder) {
  std::error_code failed;
  std::vector<Entry> found;
  for (fs::directory_iterator it(folder, fs::directory_options::skip_permission_denied, failed), end;
       !failed && it != end; it.increment(failed)) {
    const std::string name = it->path().filename().string();
    std::error_code ignored;
    const bool is_folder = it->is_directory(ignored);
    if (name.empty() || name[0] == '.') continue;
    if (is_folder || (request_.want != Want::folder && ends_as(name, request_.endings)))
      found.push_back({name, is_folder});
  }
  if (failed) {
    problem_ = folder + ": this folder cannot be read: " + failed.message();
    return;
  }
  std::sort(found.begin(), found.end(),
            [](const Entry& a, const Entry& b) { return a.folder != b.folder ? a.folder : a.name < b.name; });
  problem_.clear();
  folder_ = fs::weakly_canonical(folder, failed).string();
  entries_ = std::move(found);
}

bool FileBrowser::confirm(const std::string& path) {
  std::error_code failed;
  if (request_.want != Want::save_file || !fs::exists(path, failed) || overwrite_ == path) return true;
  overwrite_ = path;
  problem_ = "There is already a file of this name. Press Save again to write over it.";
  return false;
}

void FileBrowser::choose(const std::string& path) {
  std::error_code failed;
  const bool is_folder = fs::is_directory(path, failed);
  if (is_folder && request_.want != Want::folder) {
    enter(path);
    typed_.clear();
    return;
  }
  if (request_.want == Want::open_file && !fs::exists(path, failed)) {
    problem_ = "There is no such file.";
    return;
  }
  if (!confirm(path)) return;
  open_ = false;
  ImGui::CloseCurrentPopup();
  if (request_.chosen) request_.chosen(path);
}

void FileBrowser::list_entries(double scale) {
  std::string next;
  ImGui::BeginChild("entries", ImVec2(0, static_cast<float>(300 * scale)), true);
  for (const Entry& e : entries_) {
    const std::string shown = (e.folder ? "▸ " : "   ") + e.name;
    if (!ImGui::Selectable(shown.c_str(), typed_ == e.name, ImGuiSelectableFlags_AllowDoubleClick)) continue;
    overwrite_.clear();
    if (!e.folder) typed_ = e.name;
    if (e.folder || ImGui::IsMouseDoubleClicked(0)) next = folder_ + "/" + e.name;
  }
  ImGui::EndChild();
  if (next.empty()) return;
  if (std::error_code failed; fs::is_directory(next, failed))
    enter(next);
  else
    choose(next);
}

void FileBrowser::draw(double scale, const std::function<void(const char*)>& control) {
  if (!open_) return;
  if (opening_) ImGui::OpenPopup("files");
  ImGui::SetNextWindowSize(ImVec2(static_cast<float>(620 * scale), 0));
  const ImVec2 middle = ImGui::GetMainViewport()->GetCenter();
  ImGui::SetNextWindowPos(middle, ImGuiCond_Always, ImVec2(0.5f, 0.5f));
  if (!ImGui::BeginPopupModal("files", nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize)) return;
  heading(request_.title.c_str());
  if (ImGui::Button("Up")) enter(fs::path(folder_).parent_path().string());
  ImGui::SameLine();
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(folder_.c_str());
  list_entries(scale);
  bool go = false;
  if (request_.want != Want::folder) {
    ImGui::SetNextItemWidth(-1);
    if (opening_) ImGui::SetKeyboardFocusHere();
    go = text_field("##name", typed_, true);
    control("files.name");
  }
  opening_ = false;
  if (!problem_.empty()) warn_text(problem_.c_str());
  const char* word = request_.want == Want::save_file ? "Save"
                     : request_.want == Want::folder  ? "Use this folder"
                                                      : "Open";
  go |= action_button(word);
  control("files.go");
  ImGui::SameLine();
  const bool cancel = ImGui::Button("Cancel") || ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape));
  control("files.cancel");
  if (go && open_) {
    const bool absolute = !typed_.empty() && typed_[0] == '/';
    if (request_.want == Want::folder)
      choose(folder_);
    else if (!typed_.empty())
      choose(absolute ? typed_ : folder_ + "/" + typed_);
  } else if (cancel) {
    open_ = false;
    ImGui::CloseCurrentPopup();
  }
  ImGui::EndPopup();
}

}  // namespace pontata
