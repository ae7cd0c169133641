// Bad input, as a value. The engine neither throws nor catches; a function that can meet bad input
// returns Result<T>. The codes are one numbered table for every door (command line, HTTP, browser).
#pragma once

#include <expected>
#include <string>
#include <string_view>
#include <utility>

namespace bellhole {

/// Numbered, never reused. 1xx what was typed, 2xx tables and profiles, 3xx networks, 4xx places of
/// work, 5xx files and documents, 9xx Bellhole's own faults.
enum class Code : int {
  unreadable_value = 101,  ///< a number, unit or word that cannot be read
  wrong_dimension = 102,   ///< a length where a pressure is wanted
  out_of_range = 103,      ///< readable, but outside what the quantity can be
  missing_value = 104,     ///< an input without which nothing can be computed
  contradiction = 105,     ///< two inputs that cannot both be true
  unknown_size = 201,
  unknown_ratio = 202,  ///< DR or SDR in no table
  unknown_material = 203,
  unknown_profile = 204,
  unknown_rule = 205,
  ambiguous_rows = 206,   ///< two equally specific rows of a profile
  not_overridable = 207,  ///< a company row that loosens law
  bad_tool = 208,
  unknown_element = 301,  ///< no such node, pipe, valve … in this network
  bad_network = 302,      ///< a network that contradicts itself
  no_source = 303,
  bad_gas = 304,            ///< heavier than air, or a composition that does not add up
  work_not_found = 401,     ///< the place of work is not on any main
  work_on_equipment = 402,  ///< the place of work is a regulator, a source …
  unreadable_document = 501,
  too_large = 502,  ///< over the byte or nesting cap
  unreadable_file = 503,
  unwritable_file = 504,
  bad_mapping = 505,
  bad_geometry = 506,
  cancelled = 601,
  bug = 901,
};

struct Trouble {
  Code code = Code::bug;
  std::string where;  ///< file, feature, field
  std::string value;  ///< as given
  std::string fix;    ///< what to do about it
};

/// The short name of a code, as documents carry it ("unknown_size").
std::string_view to_string(Code code);

template <class T>
using Result = std::expected<T, Trouble>;

inline std::unexpected<Trouble> trouble(Code code, std::string where, std::string value,
                                        std::string fix) {
  return std::unexpected<Trouble>(
      Trouble{code, std::move(where), std::move(value), std::move(fix)});
}

}  // namespace bellhole

/// Returns the trouble of `expression` to the caller, or binds its value to `name`.
#define BELLHOLE_TRY(name, expression)                                          \
  auto name##_result = (expression);                                            \
  if (!name##_result) return std::unexpected(std::move(name##_result).error()); \
  auto& name = *name##_result
