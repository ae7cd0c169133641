// The rules that Bellhole knows. A rule is code: an id, what it measures, which way it binds and
// whether it is law. Its value is data and stands in a profile's row (profile.hpp). A row for an id
// that is not here is refused, so that a misspelt limit cannot vanish.
#pragma once

#include <span>
#include <string_view>

namespace bellhole::procedure {

/// What a rule's value is. Numbers are SI in the engine; a row gives them with their unit.
enum class Dimension {
  fraction,
  length,
  speed,
  duration,
  gauge_pressure,
  temperature,
  std_flow,
  number,  ///< a plain number: diameters, factors
  text,    ///< one of the rule's words
  yes_no,
  date,  ///< "2015-06-01"; in the engine days since 1970-01-01
};

/// most: what happens may not exceed the value, so a smaller value is the tighter one. least: may
/// not fall below it. set: the value is a choice or a cost and neither tightens nor loosens.
enum class Sense { most, least, set };

struct Rule {
  std::string_view id;
  Dimension dimension = Dimension::number;
  Sense sense = Sense::set;
  bool law = false;  ///< no company row may loosen it; from memory it is undecided until confirmed
  std::string_view asks;        ///< what the value is, in words: "most wall compression"
  std::string_view words = {};  ///< of a text rule: the values it may have, separated by blanks
};

/// All rules, in the order of docs/rules.md.
std::span<const Rule> rules();

/// The rule with this id, or null.
const Rule* find_rule(std::string_view id);

/// Ids that look like `id`, for a trouble's fix; at most three, the nearest first.
std::string nearest_rules(std::string_view id);

/// What a dimension is called in messages: "length".
std::string_view to_string(Dimension dimension);

}  // namespace bellhole::procedure
