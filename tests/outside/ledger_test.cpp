#include "tests/outside/ledger.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <sstream>

namespace bellhole::outside {

std::vector<Check>& all_checks() {
  static std::vector<Check> checks;
  return checks;
}

namespace {

/// Rounded to a tenth of the tolerance, so that the page does not change with the last bits.
std::string rounded(double value, double tolerance) {
  const int places = std::max(0, static_cast<int>(std::ceil(-std::log10(tolerance / 10.0))));
  if (places > 9) return fmt::format("{:.9g}", value);
  const double step = std::pow(10.0, std::floor(std::log10(tolerance / 10.0)));
  return fmt::format("{:.{}f}", std::round(value / step) * step, places);
}

std::string page() {
  std::string text =
      "# Checks against things outside the project\n\n"
      "Each row is recomputed through the public interface by `./dev test`, which fails when a row "
      "is out of its\n"
      "tolerance or this page differs from what the test would write. Only independent rows count "
      "as evidence.\n"
      "Evidence says how the *expected* value is known.\n";
  std::vector<Check> sorted = all_checks();
  std::ranges::stable_sort(sorted, {}, &Check::room);
  std::string room;
  for (const auto& check : sorted) {
    if (check.room != room) {
      room = check.room;
      text += fmt::format(
          "\n## {}\n\n| quantity | expected | got | tolerance | unit | source | evidence | "
          "independent |\n"
          "|---|---|---|---|---|---|---|---|\n",
          room);
    }
    const Row& row = check.row;
    text += fmt::format("| {} | {:.10g} | {} | {:.3g} | {} | {} | {} | {} |\n", row.quantity,
                        row.expected, rounded(check.got(), row.tolerance), row.tolerance, row.unit,
                        row.source, to_string(row.evidence), row.independent ? "yes" : "no");
  }
  const auto independent =
      std::ranges::count_if(sorted, [](const Check& c) { return c.row.independent; });
  text += fmt::format("\n{} rows, {} of them independent.\n", sorted.size(), independent);
  return text;
}

TEST(Ledger, EveryRowIsWithinToleranceAndNamesItsSource) {
  ASSERT_FALSE(all_checks().empty());
  for (const auto& check : all_checks()) {
    SCOPED_TRACE(check.room + ": " + check.row.quantity);
    EXPECT_FALSE(check.row.source.empty());
    EXPECT_GT(check.row.tolerance, 0.0);
    EXPECT_TRUE(std::isfinite(check.row.expected));
    EXPECT_NEAR(check.got(), check.row.expected, check.row.tolerance);
  }
}

TEST(Ledger, ThePageShowsTheRows) {
  const std::string path = std::string(BELLHOLE_SOURCE_DIR) + "/docs/checks.md";
  if (std::getenv("BELLHOLE_WRITE_CHECKS") != nullptr) std::ofstream(path) << page();
  std::stringstream now;
  now << std::ifstream(path).rdbuf();
  EXPECT_EQ(now.str(), page())
      << "run test_outside with BELLHOLE_WRITE_CHECKS=1 and look at the change";
}

}  // namespace
}  // namespace bellhole::outside
