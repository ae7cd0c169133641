// When a row applies: the conditions of a row against what is known of a case.
//
// A condition that is not named holds always. Something unknown about the case makes the answer
// unknown, not no: a row that might apply is never passed over silently.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellhole::procedure {

/// Conditions that list the words they hold for. step: a kind of step ("join"); authority: who is
/// to be told of an outage, by a word of the company's own ("New Hampshire").
enum class Listed { size, material, tool, tier, work, surface, step, authority };
inline constexpr std::array listed_names{std::string_view("size"), std::string_view("material"),
                                         std::string_view("tool"), std::string_view("tier"),
                                         std::string_view("work"), std::string_view("surface"),
                                         std::string_view("step"), std::string_view("authority")};
/// Conditions that hold for a range. od: outside diameter (m); temperature: of the pipe (K); made:
/// days since 1970-01-01; depth: of cover over a main (m); wall: of the pipe (m).
enum class Ranged { od, temperature, made, depth, wall };
inline constexpr std::array ranged_names{std::string_view("od"), std::string_view("temperature"),
                                         std::string_view("made"), std::string_view("depth"),
                                         std::string_view("wall")};

/// A range of SI values. `from` and `up_to` belong to it, `above` and `below` do not.
struct Range {
  std::optional<double> from, above, up_to, below;
  [[nodiscard]] bool named() const { return from || above || up_to || below; }
};

struct When {
  std::array<std::vector<std::string>, listed_names.size()> listed;  ///< empty: any
  std::array<Range, ranged_names.size()> ranged;

  std::vector<std::string>& operator[](Listed key) { return listed[static_cast<std::size_t>(key)]; }
  Range& operator[](Ranged key) { return ranged[static_cast<std::size_t>(key)]; }
};

/// A value known between two bounds, both included; equal where it is known exactly.
struct Between {
  double low = 0.0;
  double high = 0.0;
};

/// What is known of the pipe, tool and work in hand. Missing: not known.
struct Case {
  std::array<std::optional<std::string>, listed_names.size()> listed;
  std::array<std::optional<Between>, ranged_names.size()> ranged;

  std::optional<std::string>& operator[](Listed key) {
    return listed[static_cast<std::size_t>(key)];
  }
  std::optional<Between>& operator[](Ranged key) { return ranged[static_cast<std::size_t>(key)]; }
};

enum class Applies { no, unknown, yes };

/// Whether a row applies. `missing` collects what would have to be known ("temperature") where it
/// is unknown.
Applies applies(const When& when, const Case& in, std::vector<std::string_view>* missing = nullptr);

/// How many conditions are named; a list of sizes with the range of their diameters counts once.
int specificity(const When& when);

/// Whether some case satisfies both.
bool overlap(const When& a, const When& b);

/// Whether every case that satisfies `inner` satisfies `outer`.
bool contains(const When& outer, const When& inner);

}  // namespace bellhole::procedure
