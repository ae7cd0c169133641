// Reading a size as people write it. What the text leaves open is asked back, not guessed.
#include <fast_float/fast_float.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "pipe/sizes.hpp"

namespace bellhole::pipe {
namespace {

enum class UnitWord { none, inch, millimetre };

struct Parts {
  std::optional<System> system;
  std::optional<double> number;
  UnitWord unit = UnitWord::none;
  bool clean = true;  // every piece was understood, once
};

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || c == '"'; }
bool is_number(char c) { return (c >= '0' && c <= '9') || c == '.' || c == '/'; }

/// "1.25", "1/2"; nothing for "1/0" or "1/2/3".
std::optional<double> plain_number(std::string_view text) {
  const auto slash = text.find('/');
  double top = 0.0;
  const auto upper = text.substr(0, slash);
  const auto first = fast_float::from_chars(upper.data(), upper.data() + upper.size(), top);
  if (first.ec != std::errc() || first.ptr != upper.data() + upper.size()) return std::nullopt;
  if (slash == std::string_view::npos) return top;
  double bottom = 0.0;
  const auto below = text.substr(slash + 1);
  const auto second = fast_float::from_chars(below.data(), below.data() + below.size(), bottom);
  if (second.ec != std::errc() || second.ptr != below.data() + below.size() || bottom <= 0.0)
    return std::nullopt;
  return top / bottom;
}

void take_word(const std::string& word, Parts& parts) {
  std::optional<System> system;
  if (word == "ips") system = System::ips;
  if (word == "cts") system = System::cts;
  if (word == "dn") system = System::iso;
  if (system) {
    parts.clean = parts.clean && !parts.system;
    parts.system = system;
    return;
  }
  const bool inch = word == "in" || word == "inch" || word == "inches" || word == "\"";
  const bool fits = (inch || word == "mm") && parts.number && parts.unit == UnitWord::none;
  parts.clean = parts.clean && fits;
  parts.unit = inch ? UnitWord::inch : UnitWord::millimetre;
}

/// A number, or the fraction after a whole number: "1-1/4", "1 1/4".
void take_number(const std::string& digits, Parts& parts) {
  const auto number = plain_number(digits);
  if (!number) {
    parts.clean = false;
  } else if (!parts.number) {
    parts.number = number;
  } else {
    const bool mixed = *number < 1.0 && digits.find('/') != std::string::npos &&
                       *parts.number == std::floor(*parts.number) && parts.unit == UnitWord::none;
    parts.clean = parts.clean && mixed;
    parts.number = *parts.number + *number;
  }
}

Parts split(std::string_view text) {
  const std::string flat = lower(text);
  Parts parts;
  for (std::size_t i = 0; i < flat.size();) {
    const char c = flat[i];
    const auto run = [&](bool (*belongs)(char)) {
      std::size_t end = i;
      while (end < flat.size() && belongs(flat[end])) ++end;
      return flat.substr(i, end - i);
    };
    if (is_letter(c)) {
      const std::string word = run(is_letter);
      take_word(word, parts);
      i += word.size();
    } else if (is_number(c)) {
      const std::string digits = run(is_number);
      take_number(digits, parts);
      i += digits.size();
    } else {
      if (c != ' ' && c != '-' && c != '_') parts.clean = false;
      if (c == '-' && !parts.number && !parts.system) parts.clean = false;
      ++i;
    }
  }
  return parts;
}

bool same(double a, double b) { return std::abs(a - b) < 1e-9; }

const Size* find(System system, double nominal) {
  const auto found = std::ranges::find_if(sizes(), [&](const Size& size) {
    return size.system == system && same(size.nominal, nominal);
  });
  return found == sizes().end() ? nullptr : &*found;
}

/// What a number without its system could be: "IPS 8 (8.625 in outside)".
std::string could_mean(double number, UnitWord unit) {
  std::string text;
  for (const System system : {System::ips, System::cts, System::iso}) {
    const bool inch = system != System::iso;
    if ((inch && unit == UnitWord::millimetre) || (!inch && unit == UnitWord::inch)) continue;
    const Size* size = find(system, number);
    if (size == nullptr) continue;
    text += fmt::format("{}{} ({} outside)", text.empty() ? "" : " or ", size->name,
                        inch ? fmt::format("{:.3f} in", size->od.si() / 0.0254)
                             : fmt::format("{:g} mm", size->od.si() * 1e3));
  }
  return text;
}

}  // namespace

Result<Size> read_size(std::string_view text, std::string_view where) {
  const Parts parts = split(text);
  if (!parts.number || !parts.clean) {
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   "write the system and the size: IPS 8, CTS 1/2, dn 125");
  }
  if (!parts.system) {
    const std::string meant = could_mean(*parts.number, parts.unit);
    return trouble(Code::missing_value, std::string(where), std::string(text),
                   meant.empty() ? std::string("say IPS, CTS or dn: IPS 8, CTS 1/2, dn 125")
                                 : fmt::format("say which: {}", meant));
  }
  const bool iso = *parts.system == System::iso;
  if ((iso && parts.unit == UnitWord::inch) || (!iso && parts.unit == UnitWord::millimetre)) {
    return trouble(Code::contradiction, std::string(where), std::string(text),
                   "IPS and CTS sizes are in inches, dn sizes in millimetres");
  }
  if (const Size* size = find(*parts.system, *parts.number)) return *size;
  return trouble(Code::unknown_size, std::string(where), std::string(text),
                 fmt::format("not in the table; nearest are {}",
                             nearest_sizes(*parts.system, *parts.number, 3)));
}

}  // namespace bellhole::pipe
