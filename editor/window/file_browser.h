// Files and folders inside the window: for opening, saving, pictures, scans and the cartoon's folder.
#pragma once

#include <functional>
#include <string>
#include <vector>

namespace pontata {

class FileBrowser {
 public:
  enum class Want { open_file, save_file, folder };
  struct Request {
    Want want = Want::open_file;
    std::string title;                 // "Open a project"
    std::vector<std::string> endings;  // lower case with dot; empty: all files
    std::string name;                  // proposed, for saving
    std::function<void(const std::string& path)> chosen;
  };

  void ask(Request request, const std::string& folder);
  bool open() const { return open_; }
  const std::string& folder() const { return folder_; }
  // Draws the dialog while it is open; calls `chosen` once. Names its controls through `control`.
  void draw(double scale, const std::function<void(const char*)>& control);

 private:
  struct Entry {
    std::string name;
    bool folder = false;
  };
  void enter(const std::string& folder);
  void list_entries(double scale);
  void choose(const std::string& path);
  bool confirm(const std::string& path);  // a file that would be written over needs a second press

  Request request_;
  std::string folder_, typed_, problem_, overwrite_;
  std::vector<Entry> entries_;
  bool open_ = false, opening_ = false;
};

}  // namespace pontata
