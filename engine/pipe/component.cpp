#include "pipe/component.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

namespace bellhole::pipe {
namespace {

constexpr std::string_view alphabet =
    "0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
constexpr std::size_t code_length = 16;
/// Codes of this kind were not on pipe before; a reading that needs an older year is none.
constexpr int first_year = 2007;

bool is_alnum(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::optional<CodeDay> plausible(std::int64_t day, std::int64_t year) {
  const bool good = day >= 1 && day <= 366 && year <= 99 && 2000 + year >= first_year;
  if (!good) return {};
  return CodeDay{static_cast<int>(2000 + year), static_cast<int>(day)};
}

void set_date(Component& component) {
  const std::int64_t n = component.date_number;
  const auto day_first = plausible(n / 100, n % 100), year_first = plausible(n % 1000, n / 1000);
  if (day_first && year_first) {
    component.doubt =
        fmt::format("the date reads as day {} of {} or as day {} of {}: read the printed date",
                    day_first->day, day_first->year, year_first->day, year_first->year);
    return;
  }
  if (!day_first && !year_first) {
    component.doubt = fmt::format("{} is no day: read the printed date", n);
    return;
  }
  component.made = day_first ? day_first : year_first;
}

std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words(1);
  for (const char c : text) {
    if (std::isspace(static_cast<unsigned char>(c)) != 0 || c == '|' || c == ';' || c == ',') {
      if (!words.back().empty()) words.emplace_back();
    } else {
      words.back() += c;
    }
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

std::string upper(std::string text) {
  for (char& c : text) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return text;
}

std::optional<double> plain_number(std::string_view text) {
  if (text.empty() || text.size() > 6 ||
      text.find_first_not_of("0123456789.") != std::string_view::npos ||
      std::ranges::count(text, '.') > 1 || !is_digit(text.front()) || !is_digit(text.back()))
    return {};
  double whole = 0.0, scale = 1.0;
  bool after = false;
  for (const char c : text) {
    if (c == '.') {
      after = true;
      continue;
    }
    whole = whole * 10.0 + (c - '0');
    if (after) scale *= 10.0;
  }
  return whole / scale;
}

/// Takes words off the line from the left; what no reader takes is rest.
class LineReader {
 public:
  explicit LineReader(std::vector<std::string> words) : words_(std::move(words)) {}

  PrintLine run() {
    while (at_ < words_.size()) {
      const std::size_t took = std::max({material(), ratio(), size(), standard(), component()});
      if (took == 0) line_.rest.push_back(words_[at_]);
      at_ += std::max<std::size_t>(took, 1);
    }
    for (const auto& [name, values] : {std::pair("size", sizes_), std::pair("ratio", ratios_),
                                       std::pair("material", materials_)})
      if (values > 1) line_.doubts.push_back(fmt::format("the line has more than one {}", name));
    if (sizes_ > 1) line_.size.reset();
    if (ratios_ > 1) line_.ratio.reset();
    if (materials_ > 1) line_.material = nullptr;
    return std::move(line_);
  }

 private:
  [[nodiscard]] std::string word(std::size_t offset) const {
    return at_ + offset < words_.size() ? upper(words_[at_ + offset]) : std::string();
  }

  std::size_t material() {
    const std::string first = word(0);
    const bool split = first == "PE" && plain_number(word(1)).has_value();
    if (!first.starts_with("PE") || (first.size() < 4 && !split)) return 0;
    const auto read = read_material(split ? "PE" + word(1) : first, "");
    if (!read) return 0;
    if (line_.material != *read) ++materials_;
    line_.material = *read;
    return split ? 2 : 1;
  }

  std::size_t ratio() {
    const std::string first = word(0);
    for (const std::string_view name : {"SDR", "DR"}) {
      if (!first.starts_with(name)) continue;
      const bool joined = first.size() > name.size();
      std::string digits = joined ? first.substr(name.size()) : word(1);
      if (digits.starts_with('-')) digits.erase(0, 1);
      const auto value = plain_number(digits);
      if (!value || *value < 4.0 || *value > 60.0)
        continue;  // no pipe is made beyond: another word
      if (line_.ratio != value) ++ratios_;
      line_.ratio = value;
      return joined ? 1 : 2;
    }
    return 0;
  }

  std::size_t size() {
    const std::string first = word(0), second = word(1);
    const auto system = [](const std::string& text) {
      return text == "IPS" || text == "CTS" || text == "DN";
    };
    const bool before = system(first),
               after = system(second) && !first.empty() && is_digit(first.front());
    if (!before && !after) return 0;
    const auto read = read_size(before ? first + " " + second : second + " " + first, "");
    if (!read) return 0;
    if (!line_.size || line_.size->name != read->name) ++sizes_;
    line_.size = *read;
    return 2;
  }

  std::size_t standard() {
    const bool astm = word(0) == "ASTM";
    const std::string id = astm ? word(1) : word(0);
    const bool named = id.size() >= 5 && (id.front() == 'D' || id.front() == 'F') &&
                       std::ranges::all_of(id.substr(1, 4), is_digit);
    if (!named) return 0;
    line_.standards.push_back("ASTM " + id);
    return astm ? 2 : 1;
  }

  std::size_t component() {
    const std::string& text = words_[at_];
    const bool mixed = std::ranges::any_of(text, is_digit) && std::ranges::any_of(text, [](char c) {
                         return is_alnum(c) && !is_digit(c);
                       });
    const auto read =
        mixed ? read_component(text, "") : Result<Component>(std::unexpected(Trouble{}));
    if (!read) return 0;
    if (line_.component) line_.doubts.push_back("the line has more than one component code");
    line_.component = *read;
    return 1;
  }

  std::vector<std::string> words_;
  std::size_t at_ = 0;
  PrintLine line_;
  int sizes_ = 0, ratios_ = 0, materials_ = 0;
};

}  // namespace

Result<std::int64_t> read_base62(std::string_view digits, std::string_view where) {
  std::int64_t number = 0;
  if (digits.empty() || digits.size() > 10)
    return trouble(Code::unreadable_value, std::string(where), std::string(digits),
                   "give 1 to 10 letters and digits");
  for (const char c : digits) {
    const auto value = alphabet.find(c);
    if (value == std::string_view::npos)
      return trouble(Code::unreadable_value, std::string(where), std::string(digits),
                     "letters and digits only");
    number = number * 62 + static_cast<std::int64_t>(value);
  }
  return number;
}

std::string base62(std::int64_t number, std::size_t width) {
  std::string text(width, '0');
  for (std::size_t i = width; i-- > 0; number /= 62)
    text[i] = alphabet[static_cast<std::size_t>(number % 62)];
  return text;
}

Result<Component> read_component(std::string_view code, std::string_view where) {
  if (code.size() != code_length || !std::ranges::all_of(code, is_alnum))
    return trouble(Code::unreadable_value, std::string(where), std::string(code),
                   "a component code is 16 letters and digits");
  const auto part = [&](std::size_t from, std::size_t count) {
    return std::string(code.substr(from, count));
  };
  Component component{.code = std::string(code),
                      .maker = part(0, 2),
                      .lot_text = part(2, 4),
                      .date_text = part(6, 3),
                      .material = part(9, 1),
                      .type = part(10, 2),
                      .size = part(12, 3),
                      .reserved = part(15, 1)};
  BELLHOLE_TRY(lot, read_base62(component.lot_text, where));
  BELLHOLE_TRY(date, read_base62(component.date_text, where));
  component.lot = lot;
  component.date_number = date;
  set_date(component);
  return component;
}

Result<PrintLine> read_print_line(std::string_view text, std::string_view where) {
  if (text.size() > 500)
    return trouble(Code::out_of_range, std::string(where),
                   fmt::format("{} characters", text.size()),
                   "give the line as it stands on the pipe, at most 500 characters");
  return LineReader(words_of(text)).run();
}

}  // namespace bellhole::pipe
