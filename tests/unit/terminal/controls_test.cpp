// What a map or a log says cannot command the terminal that shows it.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "sheets/terminal/terminal.hpp"

namespace bellhole::sheets {
namespace {

using nlohmann::json;

TEST(Terminal, ObeysNothingThatALogSays) {
  const json reply{{"question", "none"},
                   {"verdict", "warn"},
                   {"engine", "bellhole"},
                   {"findings", json::array({{{"grade", "warn"},
                                              {"says",
                                               "a\x1b[2J\tb \xc2\x9b"
                                               "31m Quay Stra\xc3\x9f"
                                               "e"},
                                              {"rule", "r"},
                                              {"action", "do"}}})}};
  const std::string text = terminal_text(reply, units::System::us);
  EXPECT_EQ(text.find_first_of("\x1b\t"), std::string::npos) << text;
  EXPECT_EQ(text.find("\xc2\x9b"), std::string::npos) << text;
  EXPECT_NE(text.find("Stra\xc3\x9f"
                      "e"),
            std::string::npos)
      << "letters stay";
}

TEST(Terminal, NorWhatARefusalQuotes) {
  const std::string text = refusal_text(
      {{"code", "x"}, {"number", 1}, {"where", "w"}, {"value", "\x1b]0;title\x07"}, {"fix", "f"}});
  EXPECT_EQ(text.find_first_of("\x1b\x07"), std::string::npos) << text;
}

}  // namespace
}  // namespace bellhole::sheets
