// The reading door of the network document: fills the columns that network_shape.hpp describes. It
// keeps the first trouble and walks on without doing anything, so that the description stays free
// of error handling.
//
// Internal to wire/.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <set>
#include <unordered_map>

#include "network/words.hpp"
#include "wire/json.hpp"
#include "wire/network_shape.hpp"

namespace bellhole::wire {

using network::Index;
using network::Ternary;

inline constexpr double unknown_number = std::numeric_limits<double>::quiet_NaN();

/// A value as it stands in the document, for trouble.
inline std::string shown(const Json& value) {
  std::string text = value.dump(-1, ' ', false, Json::error_handler_t::replace);
  if (text.size() > 60) text = text.substr(0, 57) + "...";
  return text;
}

class Reader {
 public:
  Reader(const Json& document, std::string_view name) : document_(document), name_(name) {}

  std::optional<Trouble> trouble_found;

  // --- the head of the document
  // ---------------------------------------------------------------------
  void head(std::string_view key, std::string& out) {
    const Json* value = top(key);
    if (value == nullptr || failed()) return;
    if (!value->is_string()) return fail_head(key, *value, "give a text");
    out = value->get<std::string>();
  }
  void head(std::string_view key, AbsolutePressure& pressure, Temperature& temperature) {
    const Json* value = top(key);
    if (failed()) return;
    if (value == nullptr || !value->is_object()) {
      return fail_head(key, value == nullptr ? Json() : *value,
                       "give the base of standard volumes as {\"pa_abs\": …, \"k\": …}");
    }
    pressure = AbsolutePressure::from_si(positive(*value, key, "pa_abs"));
    temperature = Temperature::from_si(positive(*value, key, "k"));
  }
  template <class Kind>
  void head(std::string_view key, Quantity<Kind>& out) {
    const std::string full = std::string(key) + std::string(Kind::suffix);
    const Json* value = top(full);
    out = Quantity<Kind>::from_si(unknown_number);
    if (value == nullptr || failed()) return;
    if (!value->is_number()) return fail_head(full, *value, "give a number or null");
    out = Quantity<Kind>::from_si(value->get<double>());
  }

  // --- tables
  // -----------------------------------------------------------------------------------------
  /// A table whose rows have an id of their own.
  template <class Columns>
  void table(std::string_view name, std::vector<std::string>& ids, const Columns& columns) {
    open(name, "id");
    text("id", ids);
    if (!failed()) index_ids(ids);
    columns();
    close();
  }
  /// A table without ids; the column `counted` must be there and gives the number of rows.
  template <class Columns>
  void rows(std::string_view name, std::string_view counted, const Columns& columns) {
    open(name, counted);
    columns();
    close();
  }

  void text(std::string_view key, std::vector<std::string>& out) {
    const Json* column = find(key, Need::may);
    out.assign(rows_, {});
    each(key, column, [&](std::size_t i, const Json& value) {
      if (!value.is_string()) return fail_row(Code::unreadable_value, key, i, value, "give a text");
      out[i] = value.get<std::string>();
    });
  }
  void number(std::string_view key, std::vector<double>& out, Need need, Bounds bounds) {
    const Json* column = find(key, need);
    out.assign(rows_, unknown_number);
    each(key, column, need, [&](std::size_t i, const Json& value) {
      if (const auto number = number_in(key, i, value, bounds)) out[i] = *number;
    });
  }
  template <class Kind>
  void quantity(std::string_view key, std::vector<Quantity<Kind>>& out, Need need, Bounds bounds) {
    const std::string full = std::string(key) + std::string(Kind::suffix);
    const Json* column = find(full, need);
    out.assign(rows_, Quantity<Kind>::from_si(unknown_number));
    each(full, column, need, [&](std::size_t i, const Json& value) {
      if (const auto number = number_in(full, i, value, bounds))
        out[i] = Quantity<Kind>::from_si(*number);
    });
  }
  void year(std::string_view key, std::vector<std::int16_t>& out) {
    const Json* column = find(key, Need::may);
    out.assign(rows_, 0);
    each(key, column, [&](std::size_t i, const Json& value) {
      const auto number = number_in(key, i, value, {1700.0, 2200.0});
      if (number) out[i] = static_cast<std::int16_t>(*number);
    });
  }
  template <class E>
  void word(std::string_view key, std::vector<E>& out) {
    const Json* column = find(key, Need::may);
    out.assign(rows_, unknown_of(E{}));
    each(key, column, [&](std::size_t i, const Json& value) {
      const auto known = value.is_string()
                             ? network::from_word<E>(value.get_ref<const std::string&>())
                             : std::nullopt;
      if (!known) {
        return fail_row(Code::unreadable_value, key, i, value,
                        "give one of: " + network::all_words<E>());
      }
      out[i] = *known;
    });
  }
  void ternary(std::string_view key, std::vector<Ternary>& out) {
    out.assign(rows_, Ternary::unknown);
    each_ternary(key, [&](std::size_t i, Ternary value) { out[i] = value; });
  }
  template <class Row>
  void ternary(std::string_view key, std::vector<Row>& out, Ternary Row::* member) {
    out.resize(rows_);
    each_ternary(key, [&](std::size_t i, Ternary value) { out[i].*member = value; });
  }
  void flag(std::string_view key, std::vector<std::uint8_t>& out) {
    const Json* column = find(key, Need::may);
    out.assign(rows_, 0);
    each(key, column, [&](std::size_t i, const Json& value) {
      if (!value.is_boolean())
        return fail_row(Code::unreadable_value, key, i, value, "give true or false");
      out[i] = value.get<bool>() ? 1 : 0;
    });
  }
  void reference(std::string_view key, std::vector<Index>& out, std::string_view table,
                 const std::vector<std::string>&, Need need) {
    const Json* column = find(key, need);
    out.assign(rows_, network::none);
    const auto& ids = by_id_[std::string(table)];
    each(key, column, need, [&](std::size_t i, const Json& value) {
      if (!value.is_string()) {
        return fail_row(Code::unreadable_value, key, i, value,
                        fmt::format("give an id of table {}", table));
      }
      const auto found = ids.find(value.get_ref<const std::string&>());
      if (found == ids.end()) {
        return fail_row(Code::unknown_element, key, i, value,
                        fmt::format("give an id that stands in table {}", table));
      }
      out[i] = found->second;
    });
  }
  void day(std::string_view key, std::vector<std::array<double, 24>>& out) {
    const Json* column = find(key, Need::must);
    out.assign(rows_, {});
    each(key, column, Need::must, [&](std::size_t i, const Json& value) {
      if (!value.is_array() || value.size() != 24) {
        return fail_row(Code::unreadable_value, key, i, value,
                        "give 24 numbers, one for each hour");
      }
      for (std::size_t hour = 0; hour < 24; ++hour) {
        if (const auto number = number_in(key, i, value[hour], not_negative))
          out[i][hour] = *number;
      }
    });
  }
  /// Lines of rows that do not lie between nodes.
  void lines(std::string_view key, std::vector<std::int32_t>& first, std::vector<double>& vx,
             std::vector<double>& vy) {
    read_lines(key, first, vx, vy, [&](std::size_t i) {
      fail_row(Code::missing_value, key, i, Json(), "give the line as [x, y, x, y, …]");
    });
  }
  /// Lines of pipes: null is a straight line between the end nodes.
  void lines(std::string_view key, std::vector<std::int32_t>& first, std::vector<double>& vx,
             std::vector<double>& vy, const network::Pipes* pipes, const network::Nodes* nodes) {
    read_lines(key, first, vx, vy, [&](std::size_t i) {
      for (const Index end : {pipes->from[i], pipes->to[i]}) {
        vx.push_back(nodes->x[static_cast<std::size_t>(end)]);
        vy.push_back(nodes->y[static_cast<std::size_t>(end)]);
      }
    });
  }

  /// Refuses keys that nothing reads, which are misspelt more often than not.
  void finish() {
    for (const auto& [key, value] : document_.items()) {
      if (failed()) return;
      if (!asked_.contains(key))
        fail_head(key, value, "nothing reads this key: correct or remove it");
    }
  }

 private:
  [[nodiscard]] bool failed() const { return trouble_found.has_value(); }

  void fail(Code code, std::string where, std::string value, std::string fix) {
    if (!failed())
      trouble_found = Trouble{code, std::move(where), std::move(value), std::move(fix)};
  }
  void fail_head(std::string_view key, const Json& value, std::string fix) {
    fail(Code::unreadable_document, fmt::format("{}: {}", name_, key), shown(value),
         std::move(fix));
  }
  void fail_table(std::string_view key, std::string value, std::string fix) {
    fail(Code::bad_network, fmt::format("{}: {}, {}", name_, table_, key), std::move(value),
         std::move(fix));
  }
  void fail_row(Code code, std::string_view key, std::size_t row, const Json& value,
                std::string fix) {
    fail(code, fmt::format("{}: {}, row {}{}, {}", name_, table_, row, row_id(row), key),
         shown(value), std::move(fix));
  }
  [[nodiscard]] std::string row_id(std::size_t row) const {
    if (current_ == nullptr || !current_->is_object()) return "";
    const auto ids = current_->find("id");
    if (ids == current_->end() || !ids->is_array() || row >= ids->size() ||
        !(*ids)[row].is_string())
      return "";
    return fmt::format(" ({})", (*ids)[row].get_ref<const std::string&>());
  }

  const Json* top(std::string_view key) {
    asked_.insert(std::string(key));
    const auto found = document_.find(std::string(key));
    return found == document_.end() || found->is_null() ? nullptr : &*found;
  }
  double positive(const Json& object, std::string_view key, const char* part) {
    const auto found = object.find(part);
    if (found == object.end() || !found->is_number() || !(found->get<double>() > 0.0)) {
      fail_head(fmt::format("{}.{}", key, part), object, "give a number above zero");
      return unknown_number;
    }
    return found->get<double>();
  }

  /// Opens a table; one that is not there has no rows.
  void open(std::string_view name, std::string_view counted) {
    table_ = name;
    rows_ = 0;
    columns_asked_.clear();
    current_ = top(name);
    if (failed() || current_ == nullptr) return;
    if (!current_->is_object())
      return fail_table("", shown(*current_), "give an object of columns");
    const auto column = current_->find(std::string(counted));
    if (column == current_->end() || !column->is_array()) {
      return fail_table(counted, "", "this column must be there, as a list: it counts the rows");
    }
    rows_ = column->size();
    if (rows_ >= static_cast<std::size_t>(std::numeric_limits<Index>::max())) {
      fail_table(counted, fmt::format("{} rows", rows_), "too many rows");
      rows_ = 0;
    }
  }
  void close() {
    if (failed() || current_ == nullptr) return;
    for (const auto& [key, value] : current_->items()) {
      if (!columns_asked_.contains(key)) {
        return fail_table(key, shown(value), "nothing reads this column: correct or remove it");
      }
    }
  }
  void index_ids(const std::vector<std::string>& ids) {
    auto& index = by_id_[table_];
    index.reserve(ids.size());
    for (std::size_t i = 0; i < ids.size(); ++i) {
      if (ids[i].empty())
        return fail_row(Code::missing_value, "id", i, Json(ids[i]), "every row needs an id");
      if (!index.emplace(ids[i], static_cast<Index>(i)).second) {
        return fail_row(Code::bad_network, "id", i, Json(ids[i]),
                        "this id stands twice: ids must differ");
      }
    }
  }

  const Json* find(std::string_view key, Need need) {
    columns_asked_.insert(std::string(key));
    if (failed() || current_ == nullptr) return nullptr;
    const auto found = current_->find(std::string(key));
    if (found == current_->end()) {
      if (need == Need::must && rows_ > 0) fail_table(key, "", "this column must be there");
      return nullptr;
    }
    if (!found->is_array() || found->size() != rows_) {
      fail_table(
          key, found->is_array() ? fmt::format("{} values", found->size()) : shown(*found),
          fmt::format("give a list of {} values, as the other columns of this table have", rows_));
      return nullptr;
    }
    return &*found;
  }
  template <class Take>
  void each(std::string_view, const Json* column, const Take& take) {
    for (std::size_t i = 0; column != nullptr && i < rows_ && !failed(); ++i) {
      if (!(*column)[i].is_null()) take(i, (*column)[i]);
    }
  }
  template <class Take>
  void each(std::string_view key, const Json* column, Need need, const Take& take) {
    for (std::size_t i = 0; column != nullptr && i < rows_ && !failed(); ++i) {
      const Json& value = (*column)[i];
      if (!value.is_null()) {
        take(i, value);
      } else if (need == Need::must) {
        fail_row(Code::missing_value, key, i, value, "this value must be given");
      }
    }
  }
  template <class Take>
  void each_ternary(std::string_view key, const Take& take) {
    const Json* column = find(key, Need::may);
    each(key, column, [&](std::size_t i, const Json& value) {
      if (!value.is_boolean()) {
        return fail_row(Code::unreadable_value, key, i, value,
                        "give true, false, or null for unknown");
      }
      take(i, value.get<bool>() ? Ternary::yes : Ternary::no);
    });
  }
  std::optional<double> number_in(std::string_view key, std::size_t row, const Json& value,
                                  Bounds bounds) {
    if (!value.is_number()) {
      fail_row(Code::unreadable_value, key, row, value, "give a number, or null for unknown");
      return std::nullopt;
    }
    const double number = value.get<double>();
    if (!std::isfinite(number) || number < bounds.low || number > bounds.high) {
      fail_row(Code::out_of_range, key, row, value,
               fmt::format("give a number from {} to {}", bounds.low, bounds.high));
      return std::nullopt;
    }
    return number;
  }
  template <class Absent>
  void read_lines(std::string_view key, std::vector<std::int32_t>& first, std::vector<double>& vx,
                  std::vector<double>& vy, const Absent& absent) {
    const Json* column = find(key, Need::may);
    first.assign(rows_ + 1, 0);
    for (std::size_t i = 0; i < rows_ && !failed(); ++i) {
      if (column == nullptr || (*column)[i].is_null()) {
        absent(i);
      } else {
        read_line(key, i, (*column)[i], vx, vy);
      }
      first[i + 1] = static_cast<std::int32_t>(vx.size());
    }
  }
  void read_line(std::string_view key, std::size_t row, const Json& line, std::vector<double>& vx,
                 std::vector<double>& vy) {
    if (!line.is_array() || line.size() < 4 || line.size() % 2 != 0) {
      return fail_row(Code::unreadable_value, key, row, line,
                      "give the line as [x, y, x, y, …], two points or more");
    }
    if (vx.size() + line.size() / 2 >=
        static_cast<std::size_t>(std::numeric_limits<std::int32_t>::max())) {
      return fail_table(key, fmt::format("{} points", vx.size()), "too many points");
    }
    for (std::size_t k = 0; k < line.size(); ++k) {
      const auto number = number_in(key, row, line[k], any);
      if (!number) return;
      (k % 2 == 0 ? vx : vy).push_back(*number);
    }
  }

  template <class E>
  static E unknown_of(E) {
    if constexpr (requires { E::unknown; }) {
      return E::unknown;
    } else {
      return E::other;
    }
  }

  const Json& document_;
  std::string name_;
  std::string table_;
  const Json* current_ = nullptr;
  std::size_t rows_ = 0;
  std::set<std::string, std::less<>> asked_{"document", "version"};
  std::set<std::string, std::less<>> columns_asked_;
  std::unordered_map<std::string, std::unordered_map<std::string, Index>> by_id_;
};

}  // namespace bellhole::wire
