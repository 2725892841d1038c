#include "engine/picture/draped.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <mutex>

#include "engine/base/parallel.h"
#include "engine/picture/block_drawer.h"

namespace pontata {

namespace {

constexpr double kLeastSpacing = 0.001;         // m
constexpr double kMostSamples = 4097.0 * 4097;  // about 16 megapixels
constexpr int kSide = DrapedTile::kSide;
static_assert(kSide == SampleBlock::kMost);

int samples_along(double length, double spacing) { return static_cast<int>(std::floor(length / spacing + 1e-9)) + 1; }

double working_spacing(const ChartBox& box, double finest) {
  double s = std::max(finest, kLeastSpacing);
  const auto samples = [&] { return (std::floor(box.width / s) + 1) * (std::floor(box.height / s) + 1); };
  while (samples() > kMostSamples) s *= std::max(1.001, std::sqrt(samples() / kMostSamples) * 0.9995);
  return s;
}

std::uint16_t rounded16(float c) { return static_cast<std::uint16_t>(std::clamp(c, 0.0f, 1.0f) * 65535.0f + 0.5f); }
std::uint8_t rounded8(float c) { return static_cast<std::uint8_t>(std::clamp(c, 0.0f, 1.0f) * 255.0f + 0.5f); }

void put_straight(const Float4& c, std::uint8_t* to) {
  if (!(c[3] > 0)) return;
  for (int k = 0; k < 3; ++k) to[k] = rounded8(c[k] / c[3]);
  to[3] = rounded8(c[3]);
}

}  // namespace

struct Draped::Kept {
  struct Slot {
    std::mutex mutex;
    bool made = false;
    // What the tile shows, and the tile; while it is not made, those of the result before, if any.
    bool offered = false;
    std::vector<PreparedRef> shows;
    std::shared_ptr<const DrapedTile> tile;
  };

  explicit Kept(WallRef of) : wall(std::move(of)) {}
  // A drawer lent to one thread.
  class Lent {
   public:
    explicit Lent(Kept& from) : from_(from), drawer_(from.take()) {}
    ~Lent() { from_.give_back(std::move(drawer_)); }
    Lent(const Lent&) = delete;
    Lent& operator=(const Lent&) = delete;
    BlockDrawer* operator->() const { return drawer_.get(); }
    BlockDrawer& operator*() const { return *drawer_; }

   private:
    Kept& from_;
    std::unique_ptr<BlockDrawer> drawer_;
  };
  std::unique_ptr<BlockDrawer> take() {
    const std::lock_guard lock(mutex);
    if (idle.empty()) return std::make_unique<BlockDrawer>(wall, pictures);
    auto out = std::move(idle.back());
    idle.pop_back();
    return out;
  }
  void give_back(std::unique_ptr<BlockDrawer> drawer) {
    const std::lock_guard lock(mutex);
    idle.push_back(std::move(drawer));
  }

  // Pictures that may show in a box of the chart.
  std::vector<std::size_t> within(const Draped& of, Vec2 low, Vec2 high) const {
    std::vector<std::size_t> out;
    for (std::size_t k = 0; k < pictures.size(); ++k)
      if (pictures[k]->extent(kSide * of.spacing(), of.tiles_across(), of.tiles_up()).any(low, high)) out.push_back(k);
    return out;
  }

  WallRef wall;
  std::vector<PreparedRef> pictures;  // those with pixels, the lowest first
  std::vector<Slot> slots;            // by tile
  std::once_flag sampled;
  std::optional<WallSamples> samples;  // of the working grid

 private:
  std::mutex mutex;
  std::vector<std::unique_ptr<BlockDrawer>> idle;
};

Draped::Draped(DrapeInput input) : input_(std::move(input)), kept_(std::make_unique<Kept>(input_.wall)) {}
Draped::~Draped() = default;

std::shared_ptr<const Draped> Draped::make(DrapeInput input, std::shared_ptr<const Draped> before, double spacing) {
  auto out = std::shared_ptr<Draped>(new Draped(std::move(input)));
  if (before && before->input_.wall != out->input_.wall) before = nullptr;
  out->prepare(before.get(), spacing);
  if (before && before->spacing_ != out->spacing_) out->prepare(nullptr, spacing);
  if (before && before->spacing_ == out->spacing_) out->take_over(*before);
  return out;
}

void Draped::prepare(const Draped* before, double spacing) {
  const ChartBox box = input_.wall->chart->box();
  kept_->pictures.clear();
  finest_ = box.width;
  for (const auto& picture : input_.pictures) {
    if (!picture->pixels) continue;
    PreparedRef prepared;
    if (before)
      for (const auto& known : before->kept_->pictures)
        if (known->shows(input_.wall, input_.others, *picture)) prepared = known;
    if (!prepared) prepared = std::make_shared<PreparedPicture>(input_.wall, input_.others, picture);
    if (prepared->pixel_on_wall() > 0) finest_ = std::min(finest_, prepared->pixel_on_wall());
    kept_->pictures.push_back(std::move(prepared));
  }
  spacing_ = spacing > 0 ? spacing : working_spacing(box, finest_);
  columns_ = samples_along(box.width, spacing_);
  rows_ = samples_along(box.height, spacing_);
  kept_->slots =
      std::vector<Kept::Slot>(static_cast<std::size_t>(tiles_across()) * static_cast<std::size_t>(tiles_up()));
}

void Draped::take_over(const Draped& before) {
  for (std::size_t k = 0; k < kept_->slots.size(); ++k) {
    Kept::Slot &from = before.kept_->slots[k], &to = kept_->slots[k];
    const std::lock_guard lock(from.mutex);
    to.offered = from.made || from.offered;
    if (!to.offered) continue;
    to.shows = from.shows;
    to.tile = from.tile;
  }
}

std::shared_ptr<const DrapedTile> Draped::tile(int a, int b) const {
  auto& slot =
      kept_
          ->slots[static_cast<std::size_t>(b) * static_cast<std::size_t>(tiles_across()) + static_cast<std::size_t>(a)];
  const std::lock_guard lock(slot.mutex);  // of this tile alone
  if (slot.made) return slot.tile;
  std::vector<PreparedRef> shows;
  for (const auto& picture : kept_->pictures)
    if (picture->extent(kSide * spacing_, tiles_across(), tiles_up()).at(a, b)) shows.push_back(picture);
  const bool same = slot.offered && std::equal(shows.begin(), shows.end(), slot.shows.begin(), slot.shows.end(),
                                               [](const auto& p, const auto& q) { return p->shows_same(*q); });
  if (!same) slot.tile = shows.empty() ? nullptr : drawn(a, b);
  slot.shows = std::move(shows);
  slot.offered = false;
  slot.made = true;
  return slot.tile;
}

std::shared_ptr<const DrapedTile> Draped::drawn(int a, int b) const {
  std::call_once(kept_->sampled, [&] { kept_->samples.emplace(*input_.wall, 0, spacing_, rows_); });
  const SampleBlock block{{a * kSide * spacing_, b * kSide * spacing_},
                          spacing_,
                          std::min(kSide, columns_ - a * kSide),
                          std::min(kSide, rows_ - b * kSide)};
  std::vector<std::size_t> which;
  for (std::size_t k = 0; k < kept_->pictures.size(); ++k)
    if (kept_->pictures[k]->extent(kSide * spacing_, tiles_across(), tiles_up()).at(a, b)) which.push_back(k);
  OnWall on;
  kept_->samples->of(block, b * kSide, on);
  const Kept::Lent drawer(*kept_);
  const auto& samples = drawer->draw(block, which, on);
  if (std::none_of(samples.begin(), samples.end(), [](const Float4& c) { return c[3] > 0; })) return nullptr;
  auto out = std::make_shared<DrapedTile>();
  out->rgba.resize(4 * samples.size());
  for (std::size_t k = 0; k < samples.size(); ++k)
    for (std::size_t c = 0; c < 4; ++c) out->rgba[4 * k + c] = rounded16(samples[k][static_cast<int>(c)]);
  return out;
}

bool Draped::covers(ChartPoint p) const {
  const auto on = input_.wall->chart->locate(p);
  if (!on) return false;
  const Vec3 place = position(input_.wall->mesh(), *on);
  for (std::size_t k = kept_->pictures.size(); k-- > 0;) {
    const PreparedPicture& picture = *kept_->pictures[k];
    const auto pixel = shown_pixel(picture.picture(), p, place);
    if (!pixel || picture.picture().fade >= 1 || !picture.area().holds(*pixel)) continue;
    if (picture.has_sight() && !picture.sight().sees(place, normal(input_.wall->mesh(), *on))) continue;
    const Footprint footprint = Footprint::rough(*picture.picture().pixels);
    if (Kept::Lent(*kept_)->opacity(k, *pixel, footprint) > 0) return true;
  }
  return false;
}

Raster Draped::draw(ChartPoint corner, double spacing, int width, int height, Progress* progress) const {
  Raster out{width, height, {}};
  out.rgba.assign(static_cast<std::size_t>(4) * static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 0);
  const ChartPoint first{corner.u + 0.5 * spacing, corner.v + 0.5 * spacing};
  const WallSamples wall(*input_.wall, first.v, spacing, height);
  const int across = (width + kSide - 1) / kSide, up = (height + kSide - 1) / kSide;
  const auto draw_block = [&](BlockDrawer& drawer, int a, int b) {
    const SampleBlock block{{first.u + a * kSide * spacing, first.v + b * kSide * spacing},
                            spacing,
                            std::min(kSide, width - a * kSide),
                            std::min(kSide, height - b * kSide)};
    const Vec2 low = to_vec(block.at(-1, -1)), high = to_vec(block.at(block.width, block.height));
    const auto which = kept_->within(*this, low, high);
    if (which.empty()) return;
    OnWall on;
    wall.of(block, b * kSide, on);
    const auto& samples = drawer.draw(block, which, on);
    for (int j = 0; j < block.height; ++j)
      for (int i = 0; i < block.width; ++i)
        put_straight(samples[static_cast<std::size_t>(j * kSide + i)],
                     out.rgba.data() + 4 * (std::ptrdiff_t{height - 1 - b * kSide - j} * width + a * kSide + i));
  };
  std::atomic<int> next{0};
  const int count = across * up;
  const std::size_t workers = std::min(worker_count(), static_cast<unsigned>(std::max(1, count)));
  for_each_item(workers, 1, [&](std::size_t w) {
    const Kept::Lent drawer(*kept_);
    for (int n = next++; n < count && !is_cancelled(progress); n = next++) {
      draw_block(*drawer, n % across, n / across);
      if (w == 0) report(progress, 1.0 * n / count, "Drawing the pictures on the wall");
    }
  });
  if (is_cancelled(progress)) return {};
  report(progress, 1, "Pictures drawn");
  return out;
}

Image over_white(const Raster& raster) {
  Image image{raster.width, raster.height, {}};
  image.rgb.reserve(raster.rgba.size() / 4 * 3);
  for (std::size_t k = 0; k < raster.rgba.size(); k += 4)
    for (std::size_t c = 0; c < 3; ++c)
      image.rgb.push_back(static_cast<std::uint8_t>(
          (raster.rgba[k + c] * raster.rgba[k + 3] + 255 * (255 - raster.rgba[k + 3]) + 127) / 255));
  return image;
}

Raster draw_whole(const Draped& draped, int side, Progress* progress) {
  const auto box = draped.input().wall->chart->box();
  const double spacing = std::max({draped.finest(), box.width / side, box.height / side});
  return draped.draw({0, 0}, spacing, std::max(1, static_cast<int>(std::lround(box.width / spacing))),
                     std::max(1, static_cast<int>(std::lround(box.height / spacing))), progress);
}

}  // namespace pontata
