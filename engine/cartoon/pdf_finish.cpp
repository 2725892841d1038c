#include "engine/cartoon/pdf_finish.h"

#define POINTERHOLDER_TRANSITION 4  // only std::shared_ptr from qpdf
#include <exception>
#include <optional>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFPageObjectHelper.hh>
#include <qpdf/QPDFWriter.hh>
#include <vector>

namespace pontata {
namespace {

constexpr std::array<const char*, kLayers> kTags{"Div", "Sect", "Part", "Art", "H1", "H2", "H3"};

std::string tag_of(std::size_t layer) { return std::string("/") + kTags[layer]; }
std::string group_of(std::size_t layer) { return "/" + std::string(name_of(static_cast<Layer>(layer))); }

// Turns "/Div << /MCID 4 >> BDC" into "/OC /frame BDC", or drops it with its EMC.
class TagsToLayers : public QPDFObjectHandle::TokenFilter {
 public:
  explicit TagsToLayers(bool keep) : keep_(keep) {}
  void handleToken(const QPDFTokenizer::Token& token) override {
    const auto type = token.getType();
    if (!layer_ && type == QPDFTokenizer::tt_name) layer_ = layer_of(token.getValue());
    if (layer_) {  // all until BDC belongs to the tag
      if (!token.isWord("BDC")) return;
      if (keep_) write("/OC " + group_of(*layer_) + " BDC");
      layer_.reset();
    } else if (keep_ || !token.isWord("EMC")) {
      writeToken(token);
    }
  }

 private:
  static std::optional<std::size_t> layer_of(const std::string& name) {
    for (std::size_t i = 0; i < kLayers; ++i)
      if (name == tag_of(i)) return i;
    return std::nullopt;
  }
  bool keep_;
  std::optional<std::size_t> layer_;
};

// The groups, by layer; null for those that are not used.
std::vector<QPDFObjectHandle> make_groups(QPDF& pdf, const std::array<bool, kLayers>& used) {
  std::vector<QPDFObjectHandle> out(kLayers, QPDFObjectHandle::newNull());
  auto all = QPDFObjectHandle::newArray();
  for (std::size_t i = 0; i < kLayers; ++i) {
    if (!used[i]) continue;
    auto group = QPDFObjectHandle::newDictionary();
    group.replaceKey("/Type", QPDFObjectHandle::newName("/OCG"));
    group.replaceKey("/Name", QPDFObjectHandle::newUnicodeString(group_of(i).substr(1)));
    out[i] = pdf.makeIndirectObject(group);
    all.appendItem(out[i]);
  }
  auto shown = QPDFObjectHandle::parse("<< /Name (as drawn) /BaseState /ON /ListMode /AllPages >>");
  shown.replaceKey("/Order", all.shallowCopy());
  shown.replaceKey("/ON", all.shallowCopy());
  auto properties = QPDFObjectHandle::newDictionary();
  properties.replaceKey("/OCGs", all);
  properties.replaceKey("/D", shown);
  pdf.getRoot().replaceKey("/OCProperties", properties);
  return out;
}

void to_layers(QPDF& pdf, const std::array<bool, kLayers>& used) {
  std::size_t count = 0;
  for (const bool is : used) count += is;
  const bool keep = count > 1 || (count == 1 && !used[static_cast<std::size_t>(Layer::frame)]);
  const auto groups = keep ? make_groups(pdf, used) : std::vector<QPDFObjectHandle>();
  for (QPDFPageObjectHelper& page : QPDFPageDocumentHelper(pdf).getAllPages()) {
    page.getObjectHandle().removeKey("/StructParents");
    page.addContentTokenFilter(std::make_shared<TagsToLayers>(keep));
    if (!keep) continue;
    auto names = QPDFObjectHandle::newDictionary();
    for (std::size_t i = 0; i < kLayers; ++i)
      if (used[i]) names.replaceKey(group_of(i), groups[i]);
    page.getAttribute("/Resources", true).replaceKey("/Properties", names);
  }
  for (const char* key : {"/StructTreeRoot", "/MarkInfo"}) pdf.getRoot().removeKey(key);
}

}  // namespace

const char* layer_tag(Layer layer) { return kTags[static_cast<std::size_t>(layer)]; }

Outcome finish_pdf(const std::string& from, const std::string& to, const std::array<bool, kLayers>& used) {
  try {
    QPDF pdf;
    pdf.processFile(from.c_str());
    to_layers(pdf, used);
    pdf.getRoot().replaceKey("/ViewerPreferences", QPDFObjectHandle::parse("<< /PrintScaling /None >>"));
    QPDFObjectHandle info = pdf.getTrailer().getKey("/Info");
    if (info.isDictionary()) info.removeKey("/CreationDate"), info.removeKey("/ModDate");
    QPDFWriter writer(pdf, to.c_str());
    writer.setMinimumPDFVersion("1.6");  // PrintScaling
    writer.setDeterministicID(true);
    writer.write();
  } catch (const std::exception& e) {
    return Problem{std::string("cannot be written (") + e.what() + ")", to, "Look whether the disk is full."};
  }
  return Done{};
}

}  // namespace pontata
