// What the days teach, against days made of known rates.
#include "engine/calendar/diary.h"

#include <Eigen/LU>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "engine/calendar/least_squares.h"

using namespace pontata;

namespace {

using Rates = std::array<double, kSubjects>;  // m2/h by Subject; 0: not painted

// Normal deviates, the same on every machine (std::normal_distribution is not): G. E. P. Box and M. E. Muller, "A Note
// on the Generation of Random Normal Deviates", 1958.
class Chance {
 public:
  explicit Chance(std::uint32_t seed) : engine_(seed) {}
  double share() { return (engine_() + 0.5) / 4294967296.0; }
  double normal() { return std::sqrt(-2 * std::log(share())) * std::cos(6.283185307179586 * share()); }

 private:
  std::mt19937 engine_;
};

struct Diary {
  std::vector<DiaryRef> entries;
  void add(DiaryEntry entry) {
    entry.id = static_cast<std::uint32_t>(entries.size()) + 1;
    entries.push_back(std::make_shared<const DiaryEntry>(std::move(entry)));
  }
};

DiaryEntry day_of(std::uint32_t giornata, const SubjectAreas& areas, std::optional<double> hours) {
  DiaryEntry entry;
  entry.giornata = GiornataId{giornata};
  entry.date = add_days({2027, 5, 3}, static_cast<int>(giornata));
  entry.areas = areas;
  for (const double a : areas) entry.area_m2 += a;
  entry.hours = hours;
  return entry;
}

// Each day holds some of the subjects, 0.2 to 1.2 m2 together; its hours are off by `noise` of themselves.
Diary diary_of(const Rates& rates, int days, double noise, Chance& chance) {
  Diary diary;
  for (int d = 0; d < days; ++d) {
    SubjectAreas areas{};
    double hours = 0;
    const double size = 0.05 + 0.3 * chance.share();
    for (std::size_t s = 0; s < kSubjects; ++s) {
      if (rates[s] == 0 || chance.share() < 0.5) continue;
      areas[s] = size * (0.2 + chance.share());
      hours += areas[s] / rates[s];
    }
    if (hours == 0) areas[0] = size, hours = size / rates[0];
    diary.add(day_of(static_cast<std::uint32_t>(d) + 1, areas, hours * std::max(0.2, 1 + noise * chance.normal())));
  }
  return diary;
}

constexpr Rates kRates{0.4, 0.05, 0.15, 0.25, 0};

const RateEstimate* of(const Estimates& found, Subject subject) {
  for (const auto& rate : found.rates)
    if (rate.subject == subject) return &rate;
  return nullptr;
}

bool notes_say(const Estimates& found, const std::string& words) {
  for (const auto& note : found.notes)
    if (note.find(words) != std::string::npos) return true;
  return false;
}

}  // namespace

TEST_CASE("entries that were corrected no longer count, failed attempts do") {
  Diary diary;
  diary.add(day_of(1, {0.5}, 5.0));
  DiaryEntry right = day_of(1, {0.5}, 6.0);
  right.corrects = 1;
  diary.add(right);
  DiaryEntry failed = day_of(2, {0.5}, 6.0);
  failed.failed = true;
  diary.add(failed);
  DiaryEntry again = day_of(2, {0.5}, 6.0);
  again.attempt = 2;
  diary.add(again);
  const auto standing = standing_entries(diary.entries);
  REQUIRE(standing.size() == 3);
  CHECK(standing[0]->id == 2);
  CHECK(next_attempt(diary.entries, GiornataId{1}) == 1);
  CHECK(next_attempt(diary.entries, GiornataId{2}) == 2);
  const auto found = estimate(diary.entries, {});
  CHECK(found.days == 3);
  REQUIRE(of(found, Subject::none));
  CHECK(of(found, Subject::none)->m2_per_h == Approx(0.5 / 6));
}

TEST_CASE("without noise the rates come back to the digit") {
  Chance chance(1);
  const auto diary = diary_of(kRates, 12, 0, chance);
  const auto found = estimate(diary.entries, {});
  REQUIRE(found.rates.size() == 4);
  for (const auto& rate : found.rates) {
    CHECK(rate.m2_per_h == Approx(kRates[static_cast<std::size_t>(rate.subject)]).epsilon(1e-9));
    CHECK(rate.least <= rate.m2_per_h * (1 + 1e-12));
    CHECK(rate.most == Approx(rate.least).epsilon(1e-6));
  }
}

TEST_CASE("rates are recovered from forty days with 15 % noise, and lie in the interval told as often as it says") {
  int inside = 0, told = 0;
  std::vector<double> errors;
  for (std::uint32_t seed = 0; seed < 400; ++seed) {
    Chance chance(seed);
    const auto found = estimate(diary_of(kRates, 40, 0.15, chance).entries, {});
    for (const auto& rate : found.rates) {
      const double truth = kRates[static_cast<std::size_t>(rate.subject)];
      ++told;
      inside += rate.least <= truth && truth <= rate.most;
      errors.push_back(std::abs(rate.m2_per_h / truth - 1));
    }
  }
  CHECK(told > 1590);  // of 1600
  std::ranges::nth_element(errors, errors.begin() + static_cast<std::ptrdiff_t>(errors.size() / 2));
  CHECK(errors[errors.size() / 2] < 0.05);
  // 95 % of 1600, give or take 4 standard deviations of a fair count (0.54 % each).
  CHECK(inside / static_cast<double>(told) == Approx(0.95).margin(0.022));
}

TEST_CASE("a few days far off hardly move the rates") {
  double worst = 0;
  for (std::uint32_t seed = 0; seed < 20; ++seed) {
    Chance chance(seed);
    auto diary = diary_of(kRates, 60, 0.08, chance);
    for (const std::size_t d : {7u, 23u, 51u}) {
      DiaryEntry wrong = *diary.entries[d];
      *wrong.hours *= 5;
      diary.entries[d] = std::make_shared<const DiaryEntry>(wrong);
    }
    for (const auto& rate : estimate(diary.entries, {}).rates)
      worst = std::max(worst, std::abs(rate.m2_per_h / kRates[static_cast<std::size_t>(rate.subject)] - 1));
  }
  CHECK(worst < 0.3);
}

TEST_CASE("subjects that always come in the same proportion are said not to be told apart, others are told") {
  Chance chance(5);
  Diary diary;
  for (std::uint32_t d = 1; d <= 20; ++d) {
    const double faces = 0.1 + 0.2 * chance.share(), ground = chance.share();
    diary.add(day_of(d, {ground, faces, 2 * faces, 0, 0},
                     (ground / 0.4 + faces / 0.05 + 2 * faces / 0.15) * (1 + 0.05 * chance.normal())));
  }
  const auto found = estimate(diary.entries, {});
  REQUIRE(found.rates.size() == 1);
  CHECK(found.rates[0].subject == Subject::none);
  CHECK(found.rates[0].m2_per_h == Approx(0.4).epsilon(0.25));
  CHECK(notes_say(found, "faces and hands and drapery were always painted in the same proportion"));
}

TEST_CASE("too few days tell nothing, and say how many are needed") {
  Diary diary;
  CHECK(notes_say(estimate(diary.entries, {}), "no day with hours"));
  diary.add(day_of(1, {0.5}, std::nullopt));
  CHECK(estimate(diary.entries, {}).days == 0);
  diary.add(day_of(2, {0.5, 0.1}, 5.0));
  diary.add(day_of(3, {0.5, 0.2}, 6.0));
  diary.add(day_of(4, {0.5, 0.1}, 7.0));
  const auto found = estimate(diary.entries, {});
  CHECK(found.days == 3);
  CHECK(found.rates.empty());
  CHECK(notes_say(found, "4 of them are needed"));
}

TEST_CASE("two days on one attempt are one piece of work") {
  Diary diary;
  for (std::uint32_t d = 1; d <= 4; ++d)
    for (int half = 0; half < 2; ++half) diary.add(day_of(d, {0.5}, 2.5));
  const auto found = estimate(diary.entries, {});
  CHECK(found.days == 4);
  REQUIRE(found.rates.size() == 1);
  CHECK(found.rates[0].m2_per_h == Approx(0.1));
}

TEST_CASE("the base window is the median of windows over the weather's factor of their day") {
  const Air reference{20, 65, 0};
  for (std::uint32_t seed = 0; seed < 20; ++seed) {
    Chance chance(seed);
    Diary diary;
    for (std::uint32_t d = 1; d <= 15; ++d) {
      DiaryEntry entry = day_of(d, {0.5}, std::nullopt);
      entry.air = Air{12 + 14 * chance.share(), 45 + 40 * chance.share(), 4 * chance.share()};
      entry.window_h = 10.5 * weather_factor(*entry.air, reference) * (1 + 0.1 * chance.normal());
      diary.add(entry);
    }
    const auto found = estimate(diary.entries, reference);
    REQUIRE(found.window);
    CHECK(found.window->days == 15);
    CHECK(found.window->base_h == Approx(10.5).epsilon(0.12));
    CHECK(found.window->least < found.window->base_h);
    CHECK(found.window->base_h < found.window->most);
  }
}

TEST_CASE("plastering has a rate of its own") {
  Diary diary;
  for (std::uint32_t d = 1; d <= 5; ++d) {
    DiaryEntry entry = day_of(d, {0.2 * d}, std::nullopt);
    entry.lay_hours = 0.2 * d / 0.8;
    diary.add(entry);
  }
  const auto found = estimate(diary.entries, {});
  REQUIRE(found.laying);
  CHECK(found.laying->m2_per_h == Approx(0.8));
  CHECK(found.laying->days == 5);
}

// The best of all sets of columns that may be positive: Lawson and Hanson's conditions leave no other.
TEST_CASE("non-negative least squares finds what trying every set of columns finds") {
  for (std::uint32_t seed = 0; seed < 200; ++seed) {
    Chance chance(seed);
    Eigen::MatrixXd a(9, 4);
    Eigen::VectorXd b(9);
    for (int r = 0; r < 9; ++r) {
      b[r] = chance.normal() + 0.5;
      for (int c = 0; c < 4; ++c) a(r, c) = chance.normal();
    }
    double best = b.squaredNorm();
    for (unsigned set = 1; set < 16; ++set) {
      std::vector<int> columns;
      for (int c = 0; c < 4; ++c)
        if (set >> c & 1u) columns.push_back(c);
      Eigen::MatrixXd part(9, static_cast<Eigen::Index>(columns.size()));
      for (std::size_t k = 0; k < columns.size(); ++k) part.col(static_cast<Eigen::Index>(k)) = a.col(columns[k]);
      const Eigen::VectorXd x = (part.transpose() * part).inverse() * (part.transpose() * b);
      if (x.minCoeff() >= 0) best = std::min(best, (part * x - b).squaredNorm());
    }
    const auto x = nonnegative_least_squares(a, b);
    CHECK(x.minCoeff() >= 0);
    CHECK((a * x - b).squaredNorm() == Approx(best).epsilon(1e-9));
  }
}

// Abramowitz and Stegun, "Handbook of Mathematical Functions", table 26.10.
TEST_CASE("quantiles of Student's t") {
  for (const auto& [degrees, value] : {std::pair(2, 4.303), std::pair(3, 3.182), std::pair(5, 2.571),
                                       std::pair(10, 2.228), std::pair(30, 2.042), std::pair(120, 1.980)})
    CHECK(t_quantile(degrees) == Approx(value).epsilon(0.01));
}

// Ranks of the sign test's 95 % interval: W. J. Conover, "Practical Nonparametric Statistics", table A3, from memory.
TEST_CASE("the interval of a median by ranks") {
  for (const auto& [n, rank] : {std::pair(5, 1), std::pair(6, 1), std::pair(8, 1), std::pair(9, 2), std::pair(10, 2),
                                std::pair(15, 4), std::pair(20, 6), std::pair(30, 10)}) {
    std::vector<double> values;
    for (int i = n; i >= 1; --i) values.push_back(i);
    const auto fit = fit_median(values);
    CHECK(fit.median == Approx((n + 1) / 2.0));
    CHECK(fit.least == rank);
    CHECK(fit.most == n + 1 - rank);
  }
}
