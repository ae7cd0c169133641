#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "procedure/date.hpp"
#include "units/parse.hpp"
#include "wire/text_table.hpp"

namespace bellhole::wire {
namespace {

constexpr std::string_view how =
    "write 12:00, 12:00:30, 2026-11-25T12:00, or a time since the start with its unit: 90s";

/// "12:00", "12:00:30", "12:00:30.5" as seconds of the day.
std::optional<double> clock(std::string_view text) {
  std::array<double, 3> parts{};
  std::size_t count = 0;
  while (count < 3) {
    const auto colon = std::min(text.find(':'), text.size());
    const auto part = text.substr(0, colon);
    if (part.empty() || part.find_first_not_of("0123456789.") != std::string_view::npos) return {};
    const auto number = units::parse_number(part, "");
    if (!number || (count < 2 && part.size() > 2)) return {};
    parts[count++] = *number;
    if (colon == text.size()) break;
    text.remove_prefix(colon + 1);
    if (count == 3) return {};
  }
  const bool whole =
      parts[0] == static_cast<int>(parts[0]) && parts[1] == static_cast<int>(parts[1]);
  if (count < 2 || !whole || parts[0] >= 24 || parts[1] >= 60 || parts[2] >= 60) return {};
  return parts[0] * 3600.0 + parts[1] * 60.0 + parts[2];
}

std::string_view trimmed(std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  return text;
}

}  // namespace

Result<Duration> Moments::read(std::string_view given, const std::string& unit,
                               const std::string& where) {
  const std::string_view text = trimmed(given);
  const auto bad = [&] {
    return trouble(Code::unreadable_value, where, std::string(given), std::string(how));
  };
  Style style = Style::elapsed;
  double seconds = 0.0;
  if (text.size() > 11 && text[4] == '-' && (text[10] == 'T' || text[10] == ' ')) {
    style = Style::dated;
    BELLHOLE_TRY(days, procedure::parse_date(text.substr(0, 10), where));
    const auto of_day =
        clock(trimmed(text.substr(11, text.size() - 11 - (text.ends_with('Z') ? 1 : 0))));
    if (!of_day) return bad();
    seconds = static_cast<double>(days.first) * 86400.0 + *of_day;
  } else if (text.find(':') != std::string_view::npos) {
    style = Style::clock;
    const auto of_day = clock(text);
    if (!of_day) return bad();
    seconds = *of_day;
  } else {
    const std::string with_unit =
        unit.empty() ? std::string(text) : fmt::format("{} {}", text, unit);
    const auto read = units::parse<kinds::Duration>(with_unit, where);
    if (!read) return bad();
    seconds = read->value.si();
  }
  if (style_ != Style::none && style_ != style) {
    return trouble(
        Code::contradiction, where, std::string(given),
        "the times before are written another way: clock, date with clock, or time since "
        "the start, but one of them for all");
  }
  style_ = style;
  return Duration::from_si(seconds);
}

}  // namespace bellhole::wire
