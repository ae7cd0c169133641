#include "sheets/text.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace bellhole::sheets {

bool Text::empty() const {
  return std::ranges::all_of(runs_, [](const Run& run) { return run.says.empty(); });
}

std::string Text::plain() const {
  std::string all;
  for (const Run& run : runs_) all += run.says;
  return all;
}

Text bold(std::string says) { return Text(Run{std::move(says), true}); }

std::string capital(std::string words) {
  if (!words.empty() && words.front() >= 'a' && words.front() <= 'z')
    words.front() = static_cast<char>(words.front() - 'a' + 'A');
  return words;
}

std::string counted(std::size_t n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
  std::string all;
  for (const std::string& part : parts) {
    if (!part.empty()) all += (all.empty() ? "" : std::string(between)) + part;
  }
  return all;
}

std::string listed(const std::vector<std::string>& words) {
  std::string all;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) all += i + 1 == words.size() ? " and " : ", ";
    all += words[i];
  }
  return all;
}

}  // namespace bellhole::sheets
