// What a person reads of a relight and of a timeline.
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "sheets/terminal/terminal.hpp"

namespace bellhole::sheets {
namespace {

std::string text_of(const std::string& name, units::System system = units::System::us) {
  const std::string path = std::string(BELLHOLE_SOURCE_DIR) + "/tests/contract/" + name + ".json";
  return terminal_text(nlohmann::json::parse(std::ifstream(path)).at("reply"), system);
}

void expect_in_order(const std::string& text, std::initializer_list<const char*> parts) {
  std::size_t at = 0;
  for (const char* part : parts) {
    const auto found = text.find(part, at);
    ASSERT_NE(found, std::string::npos)
        << "'" << part << "' is not there, or not in its place, in\n"
        << text;
    at = found;
  }
}

TEST(RelightOnTheTerminal, ASwappedMeterHaltsAndIsNamedOnBothSides) {
  expect_in_order(
      text_of("relight/one_meter_swapped"),
      {"HALT", "no gas goes back", "NOT SHUT", "SHUT, NOT AFFECTED", "ALL BACK", "order"});
}

TEST(RelightOnTheTerminal, SaysHowLongTheSectorIsWatched) {
  expect_in_order(text_of("relight/held_and_walked"),
                  {"each of them", "HOLD", "ALL BACK", "Customers do not relight"});
}

TEST(TimelineOnTheTerminal, SaysHowLongThenStepsThenWhoIsOut) {
  expect_in_order(text_of("timeline/planned"),
                  {"gas stopped", "everybody back", "one crew more", "step", "relight",
                   "# the job is as long", "customer", "Gas to the air"});
}

TEST(TimelineOnTheTerminal, AStepWithoutATimeIsMarked) {
  expect_in_order(text_of("timeline/published_values_only"), {"UNDECIDED", "no time set"});
}

}  // namespace
}  // namespace bellhole::sheets
