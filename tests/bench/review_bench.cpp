// Cost of a seam review: a barrel of 10 by 10 m in pontate of 2 m, a picture full of contours on it, 200 giornate of
// 0.5 by 1 m with wavy seams, planned and with hours for all; by the clock. A table of: the first review, measures,
// plan and contours being there already; the review after a giornata was taken away, measures and plan made again
// included; the seams as seen from the floor; and how many findings there were.
#include <chrono>
#include <cstdio>
#include <numbers>

#include "engine/base/parallel.h"
#include "engine/document/flow.h"
#include "tests/bench/busy_network.h"
#include "tests/bench/busy_picture.h"
#include "tests/bench/busy_project.h"
#include "tests/fixtures/pictures.h"

using namespace pontata;

namespace {

constexpr int kAcross = 20, kUp = 10;
constexpr double kSide = 10;  // m

Ring outline(int i, int j) {
  constexpr int kSteps = 24;
  const double u = 0.5 * i, v = 1.0 * j;
  Ring ring;
  for (int k = 0; k < kSteps; ++k) ring.push_back(busy::place(u + 0.5 * k / kSteps, v));
  for (int k = 0; k < kSteps; ++k) ring.push_back(busy::place(u + 0.5, v + 1.0 * k / kSteps));
  for (int k = 0; k < kSteps; ++k) ring.push_back(busy::place(u + 0.5 - 0.5 * k / kSteps, v + 1));
  for (int k = 0; k < kSteps; ++k) ring.push_back(busy::place(u, v + 1 - 1.0 * k / kSteps));
  return ring;
}

DocumentRef project() {
  ShapeSpec barrel{.kind = ShapeKind::barrel,
                   .span = 2 * kSide / std::numbers::pi,
                   .length = kSide,
                   .rise = kSide / std::numbers::pi};
  const auto made = busy::project(barrel, [](const EdgeMeter& meter) {
    const std::vector<Ring> border{
        {to_lattice({0, 0}), to_lattice({kSide, 0}), to_lattice({kSide, kSide}), to_lattice({0, kSide})}};
    Network n = Network::from_border(border, meter).value();
    for (int j = 0; j < kUp; ++j)
      for (int i = 0; i < kAcross; ++i)
        n = insert_outline(n, outline(i, j), {static_cast<std::uint32_t>(1 + j * kAcross + i)}, meter)->network;
    return n;
  });
  auto doc = std::make_shared<Document>(*made);
  doc->settings.calendar.rate_m2_per_h = 0.08;
  doc->settings.calendar.levels_m = {-2, 0, 2};
  doc->settings.calendar.reach_m = {2.3};
  return doc;
}

template <class F>
double seconds(const F& work) {
  const auto began = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
}

}  // namespace

int main() {
  const DocumentRef doc = project();
  const WallId id = doc->walls[0]->id;
  const WallRef wall = doc->walls[0]->wall;
  const ChartBox box = wall->chart->box();
  const DrapedRef draped =
      fixtures::draped(wall, bench::busy_picture(2048), PictureFrame{{0, 0}, box.width, box.height, 0});
  const auto contours = std::make_shared<const ContourField>(contour_field(*draped));

  Flow flow;
  flow.take_over(*doc, id, draped, contours);
  (void)flow.plan(*doc);
  std::size_t findings = 0;
  const double first = seconds([&] { findings = flow.findings(*doc, id)->size(); });

  auto item = std::make_shared<WallItem>(*doc->walls[0]);
  item->network = remove_giornata(item->network, {95}, wall->metric->meter()).value();
  auto edited = std::make_shared<Document>(*doc);
  edited->walls[0] = item;
  edited->giornate[94].alive = false;
  flow.take_over(*edited, id, draped, contours);
  const double again = seconds([&] { (void)flow.findings(*edited, id); });

  const EyePoint eye{"nave", Vec3(0.3 * kSide, 0, -4)};
  std::size_t stretches = 0;
  const double seen = seconds([&] { stretches = flow.from_floor(*edited, id, eye)->size(); });

  std::printf("%zu giornate, %zu seams, %u workers\n", doc->giornate.size(), item->network.live_seams(),
              worker_count());
  std::printf("first review            %6.2f s  %zu findings\n", first, findings);
  std::printf("after an edit           %6.2f s\n", again);
  std::printf("seams from the floor    %6.2f s  %zu seams\n", seen, stretches);
  return 0;
}
