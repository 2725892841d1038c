// Reads numbers and words off the front of an attribute's text. Internal to engine/document/seam_files.
#pragma once

#include <charconv>
#include <cmath>
#include <optional>
#include <string_view>

namespace pontata {

class SvgScan {
 public:
  explicit SvgScan(std::string_view text) : text_(text) {}
  std::size_t at() const { return at_; }
  bool done() const { return at_ == text_.size(); }
  char peek() const { return done() ? '\0' : text_[at_]; }
  void step() { ++at_; }

  void blanks() {
    while (is_blank(peek())) ++at_;
  }
  // Blanks with at most one comma among them.
  void comma() {
    blanks();
    if (peek() == ',') ++at_;
    blanks();
  }
  bool take(char mark) {
    if (peek() != mark) return false;
    ++at_;
    return true;
  }
  std::string_view word() {
    const std::size_t from = at_;
    while (is_letter(peek())) ++at_;
    return text_.substr(from, at_ - from);
  }
  std::optional<double> number() {
    std::size_t from = at_;
    if (peek() == '+') ++from;
    std::size_t digit = from;
    if (digit < text_.size() && text_[digit] == '-' && digit == at_) ++digit;
    if (digit == text_.size() || !(is_digit(text_[digit]) || text_[digit] == '.')) return std::nullopt;
    double value = 0;
    const auto [end, error] = std::from_chars(text_.data() + from, text_.data() + text_.size(), value);
    if (error != std::errc{} || !std::isfinite(value)) return std::nullopt;
    at_ = static_cast<std::size_t>(end - text_.data());
    return value;
  }
  std::optional<bool> flag() {
    if (peek() != '0' && peek() != '1') return std::nullopt;
    return text_[at_++] == '1';
  }

  static bool is_digit(char c) { return c >= '0' && c <= '9'; }
  static bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
  static bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f'; }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
};

}  // namespace pontata
