// What the terminal prints of putting back, held to the contract corpus.
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <string>

#include "sheets/terminal/terminal.hpp"

namespace bellhole::sheets {
namespace {

std::string printed(const std::string& name, units::System system = units::System::us) {
  const std::string path = std::string(BELLHOLE_SOURCE_DIR) + "/tests/contract/" + name + ".json";
  std::ifstream file(path);
  return terminal_text(nlohmann::json::parse(file).at("reply"), system);
}

void expect_all(const std::string& text, std::initializer_list<const char*> parts) {
  for (const char* part : parts)
    EXPECT_NE(text.find(part), std::string::npos) << part << "\n" << text;
}

TEST(Putback, PressureTestSaysTheOtherWay) {
  expect_all(printed("pressure-test/pretested"),
             {"PRE-TESTED", "P-118", "at 95.0 psig", "TIE-IN", "no bubbles", "not soaped yet",
              "KEEP OFF", "keep off the ends"});
}

TEST(Putback, JoinSaysItsWindow) {
  expect_all(printed("join/butt"),
             {"GAUGE", "HEATER", "400.0 degF to 450.0 degF", "COOL", "from memory"});
  expect_all(printed("join/electrofusion", units::System::metric), {"COOL", "not known"});
}

TEST(Putback, PurgeOfAPlanSaysItsLegs) {
  expect_all(printed("purge/of_plan"), {"from A", "rider", "to the vent at the work", "inlet",
                                        "Then each service, nearest first"});
}

TEST(Putback, RepressuriseSaysEveryGauge) {
  expect_all(printed("repressurise/ring"),
             {"Open A, then B", "A, side with gas", "B, side of the part", "The part rises by"});
}

}  // namespace
}  // namespace bellhole::sheets
