#include "engine/cartoon/pdf_finish.h"

#define POINTERHOLDER_TRANSITION 4  // only std::shared_ptr from qpdf
#include <exception>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFWriter.hh>

namespace pontata {

Outcome finish_pdf(const std::string& from, const std::string& to) {
  try {
    QPDF pdf;
    pdf.processFile(from.c_str());
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
