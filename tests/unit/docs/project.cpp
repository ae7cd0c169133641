#include "tests/unit/docs/project.hpp"

#include <algorithm>
#include <array>
#include <fstream>
#include <regex>
#include <sstream>

namespace bellhole::docs {

namespace fs = std::filesystem;

fs::path top() { return BELLHOLE_SOURCE_DIR; }

std::string read(const fs::path& file) {
  std::stringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

std::vector<fs::path> files(const std::vector<std::string>& folders, std::string_view ending) {
  constexpr std::array<std::string_view, 3> not_ours{"node_modules", "build", "out"};
  std::vector<fs::path> found;
  for (const auto& folder : folders) {
    for (auto entry = fs::recursive_directory_iterator(top() / folder); entry != fs::end(entry);
         ++entry) {
      const std::string name = entry->path().filename().string();
      if (entry->is_directory() &&
          (name.starts_with('.') || std::ranges::find(not_ours, name) != not_ours.end()))
        entry.disable_recursion_pending();
      if (entry->is_regular_file() && name.ends_with(ending)) found.push_back(entry->path());
    }
  }
  std::ranges::sort(found);
  return found;
}

std::string without_comments(std::string text) {
  static const std::regex comment("//[^\n]*");
  return std::regex_replace(text, comment, "");
}

}  // namespace bellhole::docs
