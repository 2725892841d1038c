#include "engine/cartoon/review_marks.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pontata {

SeverityLook severity_look(Severity severity, bool accepted) {
  constexpr Colour kDecide{0.58, 0.10, 0.12}, kWarning{0.93, 0.72, 0.30}, kPale{0.90, 0.90, 0.90},
      kNote{0.78, 0.86, 0.92};
  if (accepted) return {6, 15, kPale, kGrey, 0.6};
  switch (severity) {
    case Severity::decide:
      return {4, 45, kDecide, kWhite, 1.3};
    case Severity::warn:
      return {4, 0, kWarning, kBlack, 1.0};
    case Severity::note:
      break;
  }
  return {6, 15, kNote, kBlack, 0.8};
}

void draw_mark(Pages& pages, Vec2 at, int number, const SeverityLook& look, double size_mm) {
  const std::string text = std::to_string(number);
  const double half = size_mm * std::max(0.85, 0.36 * static_cast<double>(text.size()) + 0.25);
  // Squares hold their number on their side, diamonds on their corner.
  const double radius = look.corners != 4 ? 1.15 * half : half * (look.turn_deg > 0 ? 1.35 : std::numbers::sqrt2);
  std::vector<Vec2> ring;
  for (int k = 0; k < look.corners; ++k) {
    const double turn = 2 * std::numbers::pi * k / look.corners + (45 + look.turn_deg) * std::numbers::pi / 180;
    ring.push_back(at + radius * Vec2{std::cos(turn), std::sin(turn)});
  }
  pages.path(ring, true, {0.5, kBlack, {}, 0.3});
  pages.fill(std::vector<std::vector<Vec2>>{ring}, look.fill);
  pages.path(ring, true, {0.25});
  pages.text({at.x, at.y - 0.36 * size_mm}, text, {size_mm, true, Align::centre, 0, look.ink});
}

void MarkLayer::keep_free(Vec2 place) { taken_.push_back(place); }

void MarkLayer::add(Vec2 place, int number, const SeverityLook& look) {
  const double apart = 3.1 * size_mm_;
  const auto free = [&](Vec2 p) {
    return std::ranges::none_of(taken_, [&](Vec2 t) { return glm::distance(t, p) < apart; });
  };
  const auto inside = [&](Vec2 p) { return glm::clamp(p, low_ + size_mm_, high_ - size_mm_); };
  Vec2 at = inside(place);
  constexpr int kTurns = 12, kRings = 8;
  bool found = free(at);
  for (int ring = 1; ring <= kRings && !found; ++ring)
    for (int k = 0; k < kTurns && !found; ++k) {
      const double turn = 2 * std::numbers::pi * (k + 0.5 * ring) / kTurns;
      const Vec2 p = inside(place + apart * ring * Vec2{std::cos(turn), std::sin(turn)});
      if (free(p)) at = p, found = true;
    }
  taken_.push_back(at);
  marks_.push_back({place, at, number, look});
}

void MarkLayer::draw(Pages& pages) const {
  for (const Mark& m : marks_) {
    if (m.at == m.place) continue;
    pages.line(m.place, m.at, {0.25, kBlack, {}, 0.2});
    pages.dots(std::vector<Vec2>{m.place}, 1, kBlack);
  }
  for (const Mark& m : marks_) draw_mark(pages, m.at, m.number, m.look, size_mm_);
}

TextColumns::TextColumns(Pages& pages, std::vector<Column> columns, std::function<std::vector<Column>()> next_page)
    : pages_(pages), columns_(std::move(columns)), next_page_(std::move(next_page)), y_(columns_[0].top) {}

void TextColumns::advance() {
  if (++at_ == columns_.size()) columns_ = next_page_(), at_ = 0;
  y_ = columns_[at_].top;
}

void TextColumns::block(const std::vector<Line>& lines, double after_mm, const std::function<void(Vec2)>& first) {
  double height = 0;
  for (const Line& line : lines) height += kLeading * line.style.size_mm;
  const auto fits = [&](double mm) { return y_ - mm >= columns_[at_].floor; };
  if (!fits(height) && y_ < columns_[at_].top) advance();
  bool begun = false;
  for (const Line& line : lines) {
    const double step = kLeading * line.style.size_mm;
    if (!fits(step)) advance();  // longer than a whole column
    y_ -= step;
    if (!begun && first) first({columns_[at_].x, y_});
    begun = true;
    pages_.text({columns_[at_].x + line.indent_mm, y_}, line.words, line.style);
  }
  y_ -= after_mm;
}

}  // namespace pontata
