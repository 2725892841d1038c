// The wait for a line at 4096 x 4096 pixels, beside a reference library in one run: OpenCV's IntelligentScissorsMB
// (blur 1.0, Canny 15/40), whole and cut to the box of the two anchors plus 128 pixels. Times are of one thread's own
// work, so that other programs do not count.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <opencv2/imgproc.hpp>
#include <opencv2/imgproc/segmentation.hpp>
#include <random>
#include <string>
#include <vector>

#include "engine/seams/hug_guide.h"
#include "tests/bench/busy_picture.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/walls.h"

using namespace pontata;

namespace {

constexpr int kSide = 4096;
constexpr double kPixel = 0.001;  // m on the wall
constexpr int kBeside = 128;      // px round the anchors that the peer's cut keeps

double now_ms() {
  timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return 1e3 * static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_nsec);
}

template <class Work>
double timed(const Work& work) {
  const double start = now_ms();
  work();
  return now_ms() - start;
}

struct Times {
  std::vector<double> ms;
  double at(double share) {
    std::sort(ms.begin(), ms.end());
    return ms[static_cast<std::size_t>(share * static_cast<double>(ms.size() - 1))];
  }
};

struct Pair {
  cv::Point a, b;
};

ChartPoint place(cv::Point p) { return {(p.x + 0.5) * kPixel, (kSide - p.y - 0.5) * kPixel}; }

struct Peer {
  cv::segmentation::IntelligentScissorsMB tool;
  Peer() { tool.setEdgeFeatureCannyParameters(15, 40); }
  void line(const cv::Mat& picture, cv::Point a, cv::Point b, Times& prepare, Times& map) {
    prepare.ms.push_back(timed([&] {
      cv::Mat blurred;
      cv::GaussianBlur(picture, blurred, {}, 1.0);
      tool.applyImage(blurred);
    }));
    map.ms.push_back(timed([&] {
      std::vector<cv::Point> contour;
      tool.buildMap(a);
      tool.getContour(b, contour);
    }));
  }
};

std::vector<Pair> pairs(int apart, int count) {
  std::mt19937 rng(static_cast<unsigned>(apart));
  const auto random = [&](double a, double b) { return a + (b - a) * static_cast<double>(rng()) / 4294967295.0; };
  std::vector<Pair> out;
  while (static_cast<int>(out.size()) < count) {
    const double turn = random(0, 2 * M_PI);
    const cv::Point a(static_cast<int>(random(200, kSide - 200)), static_cast<int>(random(200, kSide - 200)));
    const cv::Point b =
        a + cv::Point(static_cast<int>(apart * std::cos(turn)), static_cast<int>(apart * std::sin(turn)));
    if (b.x > 50 && b.y > 50 && b.x < kSide - 50 && b.y < kSide - 50) out.push_back({a, b});
  }
  return out;
}

void compare(int apart, const cv::Mat& picture, const std::shared_ptr<const HugGround>& ground, double whole_map) {
  Times fresh, first, exact, prepare, map;
  Peer peer;
  for (const auto& [a, b] : pairs(apart, 12)) {
    HuggedLine line;
    fresh.ms.push_back(timed([&] { line = HugStroke(ground, place(a), {}).preview(place(b)); }));
    exact.ms.push_back(timed([&] { line = HugStroke(ground, place(a), {}).to(place(b)); }));
    const auto guide = std::make_shared<HugGuide>(ground, HugOptions{});
    HugStroke(guide, place(a)).preview(place(b));
    first.ms.push_back(timed([&] { line = HugStroke(guide, place(a)).preview(place(b)); }));
    const cv::Rect whole(0, 0, kSide, kSide);
    const cv::Rect box = whole & cv::Rect(cv::Point(std::min(a.x, b.x) - kBeside, std::min(a.y, b.y) - kBeside),
                                          cv::Point(std::max(a.x, b.x) + kBeside, std::max(a.y, b.y) + kBeside));
    peer.line(picture(box), a - box.tl(), b - box.tl(), prepare, map);
  }
  std::printf("%5d px apart   shown first %6.2f ms (p95 %6.2f)   again there %6.2f   drawn %6.2f (p95 %6.2f)\n", apart,
              fresh.at(0.5), fresh.at(0.95), first.at(0.5), exact.at(0.5), exact.at(0.95));
  std::printf(
      "                 peer cut: made ready %6.2f, map and line %6.2f (p95 %6.2f)   whole map %5.0f times ours\n",
      prepare.at(0.5), map.at(0.5), map.at(0.95), whole_map / fresh.at(0.95));
}

void moves(const std::shared_ptr<const HugGround>& ground) {
  std::mt19937 rng(3);
  const auto random = [&](double a, double b) { return a + (b - a) * static_cast<double>(rng()) / 4294967295.0; };
  Times shown, drawn;
  double share = 0, length = 0;
  for (int hand = 0; hand < 12; ++hand) {
    ChartPoint p{random(0.5, 3.5), random(0.5, 3.5)};
    double heading = random(0, 6.28);
    const auto guide = std::make_shared<HugGuide>(ground, HugOptions{});
    HugStroke stroke(guide, p);
    for (int move = 0; move < 260; ++move) {
      heading += random(-0.08, 0.08);
      p = {std::clamp(p.u + 0.003 * std::cos(heading), 0.1, 4.0),
           std::clamp(p.v + 0.003 * std::sin(heading), 0.1, 4.0)};
      HuggedLine line;
      shown.ms.push_back(timed([&] { line = stroke.preview(p); }));
      share += line.hugged_m, length += line.length_m;
      if (move % 20 == 19) drawn.ms.push_back(timed([&] { HugStroke(guide, line.line[0]).to(p); }));
    }
  }
  std::printf(
      "a hand's moves   shown: median %.2f ms, p95 %.2f, p99 %.2f, worst %.2f   drawn at rest: median %.2f, p95 %.2f"
      "   hugged %.0f %%\n",
      shown.at(0.5), shown.at(0.95), shown.at(0.99), shown.at(1), drawn.at(0.5), drawn.at(0.95), 100 * share / length);
}

}  // namespace

int main() {
  cv::setNumThreads(1);
  const Image image = bench::busy_picture(kSide);
  const cv::Mat rgb(kSide, kSide, CV_8UC3, const_cast<std::uint8_t*>(image.rgb.data()));
  cv::Mat picture;
  cv::cvtColor(rgb, picture, cv::COLOR_RGB2BGR);
  auto ground = std::make_shared<HugGround>();
  ground->wall = fixtures::flat_wall(kSide * kPixel, kSide * kPixel);
  ground->network = Network::from_border(ground->wall->chart->border_rings(), ground->wall->metric->meter()).value();
  const PictureFrame frame{{0, 0}, kSide * kPixel, kSide * kPixel, 0};
  ground->contours = std::make_shared<ContourField>(contour_field(*fixtures::draped(ground->wall, image, frame)));
  Times prepare, map;
  Peer peer;
  for (const auto& [a, b] : pairs(1000, 2)) peer.line(picture, a, b, prepare, map);
  std::printf("peer, whole picture: made ready %.0f ms, map and line %.0f ms\n", prepare.at(0), map.at(0));
  for (const int apart : {60, 150, 400, 1000}) compare(apart, picture, ground, map.at(0));
  moves(ground);
}
