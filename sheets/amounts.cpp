#include "sheets/amounts.hpp"

#include <fmt/format.h>

#include <array>
#include <utility>

namespace bellhole::sheets {
namespace {

/// Seconds rounded up, but for the last bits of a sum.
std::optional<long long> whole(std::optional<double> seconds, double unit) {
  if (!seconds || !std::isfinite(*seconds) || *seconds < 0 || *seconds > 1e9) return std::nullopt;
  return static_cast<long long>(std::ceil(*seconds / unit - 1e-6));
}

}  // namespace

std::string paper_units(std::string words) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 5> signs{
      {{"degF", "°F"}, {"degC", "°C"}, {"ft3", "ft³"}, {"m3", "m³"}, {"in2", "in²"}}};
  for (const auto& [word, sign] : signs) {
    for (auto at = words.find(word); at != std::string::npos;
         at = words.find(word, at + sign.size()))
      words.replace(at, word.size(), sign);
  }
  return words;
}

std::string scale_unit(double most_pa_gauge, units::System system) {
  const std::string printed = units::print(GaugePressure::from_si(most_pa_gauge), system);
  return printed.substr(printed.find(' ') + 1);
}

std::string gauge_reading(std::optional<double> pa_gauge, const std::string& unit,
                          units::Toward toward) {
  if (!pa_gauge || !std::isfinite(*pa_gauge)) return "–";
  const int decimals = unit == "mbar(g)" ? 0 : unit == "bar(g)" ? 2 : 1;
  const std::string printed =
      units::print_in(GaugePressure::from_si(*pa_gauge), unit, decimals, toward);
  return printed.substr(0, printed.find(' '));
}

std::string stop_watch(std::optional<double> seconds) {
  const auto total = whole(seconds, 1);
  if (!total) return std::string(not_known);
  const auto hours = *total / 3600, minutes = *total / 60 % 60, rest = *total % 60;
  return hours > 0 ? fmt::format("{}:{:02}:{:02}", hours, minutes, rest)
                   : fmt::format("{}:{:02}", minutes, rest);
}

std::string min_s(std::optional<double> seconds) {
  const auto total = whole(seconds, 1);
  if (!total) return std::string(not_known);
  return *total < 60 ? fmt::format("{} s", *total)
                     : fmt::format("{} min {:02} s", *total / 60, *total % 60);
}

namespace {

/// Seconds below two minutes, else minutes, else hours and minutes.
std::string in_words(double seconds, long long minutes) {
  if (seconds < 120) return fmt::format("{:.0f} s", seconds);
  return minutes < 120 ? fmt::format("{} min", minutes)
                       : fmt::format("{} h {:02} min", minutes / 60, minutes % 60);
}

}  // namespace

std::string lasting(std::optional<double> seconds) {
  const auto minutes = whole(seconds, 60);
  if (!minutes) return std::string(not_known);
  return in_words(*seconds < 120 ? static_cast<double>(whole(seconds, 1).value_or(0)) : *seconds,
                  *minutes);
}

std::string lasting_down(std::optional<double> seconds) {
  if (!whole(seconds, 60)) return std::string(not_known);
  return in_words(*seconds < 120 ? std::floor(*seconds) : *seconds,
                  static_cast<long long>(std::floor(*seconds / 60)));
}

}  // namespace bellhole::sheets
