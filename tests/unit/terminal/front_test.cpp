// What a controller reads of an emergency: minutes against customers.
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "sheets/terminal/terminal.hpp"

namespace bellhole::sheets {
namespace {

std::string text_of(const std::string& name) {
  const std::string path =
      std::string(BELLHOLE_SOURCE_DIR) + "/tests/contract/plan/" + name + ".json";
  return terminal_text(nlohmann::json::parse(std::ifstream(path)).at("reply"), units::System::us);
}

TEST(FrontOnTheTerminal, SaysMinutesCustomersAndWhatIsLeftLater) {
  const std::string text = text_of("front");
  std::size_t at = 0;
  for (const char* part :
       {"Minutes until the gas is stopped against customers out", "gas stopped   customers out",
        "25.0 min        21", "shut valve V0 on main M0", "then by 35.0 min",
        "open again: shut valve V0 on main M0; 5 out, 16 fewer", "35.0 min         5",
        "shut the outlet of regulator R1", "no other plan on this map is as fast"}) {
    const auto found = text.find(part, at);
    ASSERT_NE(found, std::string::npos)
        << "'" << part << "' is not there, or not in its place, in\n"
        << text;
    at = found;
  }
}

TEST(FrontOnTheTerminal, PlannedWorkHasNone) {
  EXPECT_EQ(text_of("sensing_tap").find("Minutes until"), std::string::npos);
}

}  // namespace
}  // namespace bellhole::sheets
