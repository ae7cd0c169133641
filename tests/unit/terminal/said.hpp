// What a reply of the contract corpus says on the terminal.
#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <initializer_list>
#include <nlohmann/json.hpp>
#include <string>

#include "sheets/terminal/terminal.hpp"

namespace bellhole::sheets {

/// `name`: "squeeze/ips8_us".
inline std::string text_of(const std::string& name, units::System system = units::System::us) {
  const std::string path = std::string(BELLHOLE_SOURCE_DIR) + "/tests/contract/" + name + ".json";
  return terminal_text(nlohmann::json::parse(std::ifstream(path)).at("reply"), system);
}

inline void expect_in_order(const std::string& text, std::initializer_list<const char*> parts) {
  std::size_t at = 0;
  for (const char* part : parts) {
    const auto found = text.find(part, at);
    ASSERT_NE(found, std::string::npos)
        << "'" << part << "' is not there, or not in its place, in\n"
        << text;
    at = found;
  }
}

}  // namespace bellhole::sheets
