#include "engine/picture/jpeg_arrays.h"

#include <jerror.h>

#include <algorithm>

namespace pontata {

namespace {

[[noreturn]] void leave(j_common_ptr cinfo, int why) {
  cinfo->err->msg_code = why;
  cinfo->err->error_exit(cinfo);
  std::abort();  // error_exit does not return
}

}  // namespace

void JpegArrays::serve(jpeg_decompress_struct& cinfo) {
  cinfo.mem->request_virt_barray = on_request;
  cinfo.mem->realize_virt_arrays = on_realize;
  cinfo.mem->access_virt_barray = on_access;
}

JpegArrays& JpegArrays::of(j_common_ptr cinfo) { return *static_cast<JpegArrays*>(cinfo->client_data); }

jvirt_barray_ptr JpegArrays::on_request(j_common_ptr cinfo, int, boolean, JDIMENSION across, JDIMENSION rows,
                                        JDIMENSION most) {
  auto array = std::make_unique<Array>();
  array->across = across, array->rows = rows, array->most = std::min(most, rows);
  auto& arrays = of(cinfo).arrays_;
  arrays.push_back(std::move(array));
  return reinterpret_cast<jvirt_barray_ptr>(arrays.back().get());  // opaque to libjpeg
}

// No callback may hold anything that needs destroying when it leaves by libjpeg's long jump.
void JpegArrays::on_realize(j_common_ptr cinfo) {
  if (!of(cinfo).realize()) leave(cinfo, JERR_OUT_OF_MEMORY);
}

bool JpegArrays::realize() {
  std::int64_t bytes = 0;
  for (auto& array : arrays_) {
    array->at = bytes;
    bytes += static_cast<std::int64_t>(row_bytes(*array)) * array->rows;
    array->window.resize(std::size_t{array->across} * array->most);
    for (JDIMENSION k = 0; k < array->most; ++k)
      array->row_starts.push_back(reinterpret_cast<JBLOCKROW>(array->window.data() + std::size_t{k} * array->across));
  }
  auto file = ScratchFile::open(bytes, path_);
  if (!file) {
    problem_ = file.problem();
    return false;
  }
  file_.emplace(std::move(*file));
  return std::all_of(arrays_.begin(), arrays_.end(), [&](auto& array) { return load(*array, 0); });
}

JBLOCKARRAY JpegArrays::on_access(j_common_ptr cinfo, jvirt_barray_ptr ptr, JDIMENSION first, JDIMENSION count,
                                  boolean writable) {
  auto& array = *reinterpret_cast<Array*>(ptr);
  if (first + count > array.rows || count > array.most) leave(cinfo, JERR_BAD_VIRTUAL_ACCESS);
  if (first < array.first || first + count > array.first + array.held) {
    auto& self = of(cinfo);
    if (!self.flush(array) || !self.load(array, first)) leave(cinfo, JERR_OUT_OF_MEMORY);
  }
  if (writable) array.changed = true;
  return array.row_starts.data() + (first - array.first);
}

bool JpegArrays::flush(Array& array) {
  if (!array.changed) return true;
  array.changed = false;
  const auto at = array.at + static_cast<std::int64_t>(row_bytes(array)) * array.first;
  if (!file_->write(at, array.window.data(), row_bytes(array) * array.held)) problem_ = file_->no_room();
  return !problem_;
}

bool JpegArrays::load(Array& array, JDIMENSION first) {
  array.first = first;
  array.held = std::min(array.most, array.rows - first);
  const auto at = array.at + static_cast<std::int64_t>(row_bytes(array)) * first;
  if (!file_->read(at, array.window.data(), row_bytes(array) * array.held)) problem_ = file_->no_room();
  return !problem_;
}

}  // namespace pontata
