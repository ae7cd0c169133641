#include "wire/text_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "units/parse.hpp"

namespace bellhole::wire {
namespace {

constexpr std::size_t most_lines = 200'000;

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blank = " \t\r";
  const auto from = text.find_first_not_of(blank);
  if (from == std::string_view::npos) return {};
  return text.substr(from, text.find_last_not_of(blank) - from + 1);
}

/// Small letters, one blank for every run of blanks and underscores.
std::string plain(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool gap = c == ' ' || c == '_' || c == '\t';
    if (gap && (out.empty() || out.back() == ' ')) continue;
    out += gap ? ' ' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

std::vector<std::string> cells_of(std::string_view line, char between) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == between && !quoted) {
      cells.emplace_back();
    } else {
      cells.back() += c;
    }
  }
  for (std::string& cell : cells) cell = std::string(trimmed(cell));
  return cells;
}

struct Head {
  std::string name, unit;
};

/// "gap (in)", "gap [in]", "gap_in" or "gap in"; the last two only where `known` knows the name.
template <class Known>
Head head_of(std::string_view cell, const Known& known) {
  const auto open = cell.find_first_of("([");
  if (open != std::string_view::npos) {
    const auto close = cell.find_last_of(")]");
    const auto end = close == std::string_view::npos || close < open ? cell.size() : close;
    return {plain(cell.substr(0, open)),
            std::string(trimmed(cell.substr(open + 1, end - open - 1)))};
  }
  if (known(plain(cell))) return {plain(cell), {}};
  const auto last = cell.find_last_of(" _");
  if (last == std::string_view::npos) return {plain(cell), {}};
  return {plain(cell.substr(0, last)), std::string(trimmed(cell.substr(last + 1)))};
}

struct Line {
  std::string where;
  std::string_view text;
};

Result<std::vector<Line>> lines_of(std::string_view text, std::string_view where) {
  std::vector<Line> lines;
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  for (std::size_t number = 1; !text.empty(); ++number) {
    if (number > most_lines) {
      return trouble(Code::too_large, std::string(where), fmt::format("over {} lines", most_lines),
                     "cut the table to the time that matters");
    }
    const auto end = std::min(text.find('\n'), text.size());
    const auto line = trimmed(text.substr(0, end));
    if (!line.empty() && line.front() != '#')
      lines.push_back({fmt::format("{}, line {}", where, number), line});
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  if (lines.empty()) {
    return trouble(Code::unreadable_document, std::string(where), "nothing in it",
                   "give a table whose first line names the columns");
  }
  return lines;
}

std::string names_of(std::initializer_list<ColumnWanted> wanted) {
  std::string text;
  for (const auto& column : wanted)
    text += (text.empty() ? "" : ", ") + std::string(*column.names.begin());
  return text;
}

constexpr std::size_t nowhere = static_cast<std::size_t>(-1);

/// For every column wanted, where it stands in the head; its units.
Result<std::vector<std::size_t>> columns_of(const Line& head, const std::vector<std::string>& cells,
                                            std::initializer_list<ColumnWanted> wanted,
                                            std::vector<std::string>& units) {
  const auto which = [&](const std::string& name) {
    const auto found = std::ranges::find_if(wanted, [&](const ColumnWanted& column) {
      return std::ranges::find(column.names, std::string_view(name)) != column.names.end();
    });
    return static_cast<std::size_t>(found - wanted.begin());
  };
  std::vector<std::size_t> at(wanted.size(), nowhere);
  units.assign(wanted.size(), "");
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const Head named =
        head_of(cells[i], [&](const std::string& name) { return which(name) < wanted.size(); });
    const std::size_t column = which(named.name);
    if (column == wanted.size()) {
      return trouble(Code::unreadable_document, head.where, cells[i],
                     fmt::format("the first line names the columns with their units, time,gap "
                                 "(in); columns read here: {}",
                                 names_of(wanted)));
    }
    if (at[column] != nowhere)
      return trouble(Code::contradiction, head.where, cells[i], "this column stands there twice");
    at[column] = i;
    units[column] = named.unit;
  }
  std::size_t column = 0;
  for (const auto& [names, needed] : wanted) {
    if (needed && at[column] == nowhere) {
      return trouble(Code::missing_value, head.where, std::string(head.text),
                     fmt::format("there is no column {}", *names.begin()));
    }
    ++column;
  }
  return at;
}

}  // namespace

Result<TextTable> read_table(std::string_view text, std::string_view where,
                             std::initializer_list<ColumnWanted> wanted) {
  BELLHOLE_TRY(lines, lines_of(text, where));
  const Line& head = lines.front();
  const char between = head.text.find('\t') != std::string_view::npos  ? '\t'
                       : head.text.find(';') != std::string_view::npos ? ';'
                                                                       : ',';
  const auto named = cells_of(head.text, between);
  TextTable table;
  BELLHOLE_TRY(at, columns_of(head, named, wanted, table.units));
  for (std::size_t i = 1; i < lines.size(); ++i) {
    const auto cells = cells_of(lines[i].text, between);
    if (cells.size() != named.size()) {
      return trouble(Code::unreadable_document, lines[i].where, std::string(lines[i].text),
                     fmt::format("{} cells are wanted, as in the first line", named.size()));
    }
    TextRow row{lines[i].where, std::vector<std::optional<std::string>>(at.size())};
    std::size_t column = 0;
    for (const auto& [names, needed] : wanted) {
      if (at[column] != nowhere && !cells[at[column]].empty())
        row.cells[column] = cells[at[column]];
      if (needed && !row.cells[column]) {
        return trouble(Code::missing_value, lines[i].where, std::string(lines[i].text),
                       fmt::format("there is no {} in it", *names.begin()));
      }
      ++column;
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

template <class Kind>
Result<Quantity<Kind>> read_cell(const std::string& cell, const std::string& unit,
                                 const std::string& where) {
  if (unit.empty()) {
    BELLHOLE_TRY(read, units::parse<Kind>(cell, where));
    return read.value;
  }
  if (!units::parse_number(cell, where)) {
    const auto own = units::parse<Kind>(cell, where);
    if (own) {
      return trouble(Code::contradiction, where, cell,
                     fmt::format("the column is in {}: write plain numbers in it", unit));
    }
  }
  BELLHOLE_TRY(number, units::parse_number(cell, where));
  static_cast<void>(number);
  BELLHOLE_TRY(read, units::parse<Kind>(cell + " " + unit, where));
  return read.value;
}

template Result<Length> read_cell<kinds::Length>(const std::string&, const std::string&,
                                                 const std::string&);
template Result<Temperature> read_cell<kinds::Temperature>(const std::string&, const std::string&,
                                                           const std::string&);
template Result<Duration> read_cell<kinds::Duration>(const std::string&, const std::string&,
                                                     const std::string&);
template Result<Area> read_cell<kinds::Area>(const std::string&, const std::string&,
                                             const std::string&);
template Result<GaugePressure> read_cell<kinds::GaugePressure>(const std::string&,
                                                               const std::string&,
                                                               const std::string&);

Result<bool> OneUnit::hold(std::string_view typed, const std::string& where) {
  const auto number = typed.find_last_of("0123456789.");
  const auto word = number == std::string_view::npos ? typed : typed.substr(number + 1);
  std::string unit = plain(trimmed(word));
  std::erase(unit, ' ');
  for (const std::string_view gauge : {"(gauge)", "(g)", "g"}) {
    if (unit.ends_with(gauge) && unit.size() > gauge.size()) {
      unit.resize(unit.size() - gauge.size());
      break;
    }
  }
  if (unit_.empty()) {
    unit_ = unit;
    first_ = std::string(typed);
  } else if (unit != unit_) {
    return trouble(Code::contradiction, where, std::string(typed),
                   fmt::format("the readings before are like '{}': give all in the unit of the "
                               "gauge's scale",
                               first_));
  }
  return true;
}

}  // namespace bellhole::wire
