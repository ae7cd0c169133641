// The order of a job, as data: which steps there are, for what each repeats, what it needs before.
// A company writes its own (docs/handbook/steps.md); steps.hpp lays it over a plan, and
// step_check.hpp refuses what must never be, whoever wrote it.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "findings/trouble.hpp"
#include "plan/places.hpp"
#include "plan/step.hpp"
#include "squeeze/tool.hpp"

namespace bellhole::plan {

/// What a block of steps is repeated for.
enum class Each : std::uint8_t {
  job,      ///< once
  shutoff,  ///< each shut-off, in the order of closing
  opening,  ///< each shut-off, in the order of opening
  post,     ///< each post
};
inline constexpr std::array each_words{std::string_view("job"), std::string_view("shutoff"),
                                       std::string_view("opening"), std::string_view("post")};

/// When a step is wanted; of several, all must hold. Those about a shut-off stand only in blocks
/// that repeat for shut-offs.
enum class Wanted : std::uint8_t {
  squeeze,       ///< the shut-off is a squeeze
  valve,         ///< a valve
  outlet,        ///< the outlet of a station or a source
  placed,        ///< a plug, a bag, a cap that a person places
  two,           ///< two squeezes with a vent between, or not yet decided
  hydraulic,     ///< its tool is driven by oil, or is not known
  bypass,        ///< a bypass is made
  no_bypass,     ///< none is
  customers_out  ///< somebody loses gas
};
inline constexpr std::array wanted_words{
    std::string_view("squeeze"), std::string_view("valve"),     std::string_view("outlet"),
    std::string_view("placed"),  std::string_view("two"),       std::string_view("hydraulic"),
    std::string_view("bypass"),  std::string_view("no_bypass"), std::string_view("customers_out")};

static_assert(wanted_words.size() == static_cast<std::size_t>(Wanted::customers_out) + 1);

/// Which gauges are read in a step.
enum class Read : std::uint8_t {
  own,     ///< both sides of the shut-off in hand
  part,    ///< the part side of every shut-off
  system,  ///< the stations near the part and the places with least to spare
  all,
};
inline constexpr std::array read_words{std::string_view("own"), std::string_view("part"),
                                       std::string_view("system"), std::string_view("all")};

/// Which shut-off is closed first.
enum class First : std::uint8_t {
  least_harm,   ///< Stages::closing_order: fewest fall short after it, then least gas to the part
  quickest,     ///< the one that is shut soonest: nothing to dig before something to dig
  farthest,     ///< the one furthest from the work
  as_lettered,  ///< A, then B
};
inline constexpr std::array first_words{std::string_view("least_harm"),
                                        std::string_view("quickest"), std::string_view("farthest"),
                                        std::string_view("as_lettered")};

/// In which order they are opened. One without gas behind it is never the first, since the part is
/// purged through the first.
enum class Opened : std::uint8_t {
  strongest_first,  ///< the one with the most pressure behind it, then as closed
  as_closed,
  reversed,
};
inline constexpr std::array opened_words{std::string_view("strongest_first"),
                                         std::string_view("as_closed"),
                                         std::string_view("reversed")};

enum class Bypass : std::uint8_t {
  as_needed,  ///< made where somebody beyond the part would otherwise be out or short
  always,
  never,
};
inline constexpr std::array bypass_words{std::string_view("as_needed"), std::string_view("always"),
                                         std::string_view("never")};

/// How often the gauges of a step are read.
struct HowOften {
  bool by_profile = false;        ///< steps.read_every of the profile
  std::optional<Duration> every;  ///< missing, and not by profile: without a break
};

struct OrderItem {
  std::string id;
  StepKind kind = StepKind::other;
  std::vector<Wanted> when;
  std::string does, precondition, role, place, if_not, report_to;  ///< with {names}
  std::vector<std::string> after;                                  ///< ids of items of this order
  std::vector<Read> gauges;
  HowOften how_often;
  bool hold_point = false;
  bool no_return = false;  ///< nothing undoes it
  int names = 0;
  std::vector<squeeze::Stage> tool_rows;  ///< rows of the tool's record drawn in here
  std::string source;
  Evidence evidence = Evidence::common_practice;
};

struct OrderBlock {
  Each each = Each::job;
  std::vector<OrderItem> items;
};

struct Order {
  std::string id, title;
  Kind kind = Kind::planned;
  First first = First::least_harm;
  Opened opened = Opened::strongest_first;
  Bypass bypass = Bypass::as_needed;
  std::vector<OrderBlock> blocks;
};

/// The names that a text of a block may hold in braces: "{letter}", "{where}" …
std::vector<std::string_view> names_in(Each each);

/// Looks at what the document alone can tell. Errors, each naming the item: missing_value (no item
/// at all); unknown_element (a name in braces or an item under `after` that is not there);
/// contradiction (an id that stands twice under the same condition, a condition about a shut-off
/// outside a block of shut-offs, a bypass that is wanted and not wanted).
Result<bool> check_order(const Order& order);

/// Puts values in place of the names in braces; a name without a value stays as it is.
std::string filled(std::string_view text,
                   const std::vector<std::pair<std::string_view, std::string>>& values);

}  // namespace bellhole::plan
