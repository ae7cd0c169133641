// How many tools, sets of stops and pumps a plan needs at the same time, against what the company
// owns and what the truck carries.
//
// All squeezes of a plan are closed together until the joints are made, so each asks for a tool of
// its own, and two with a vent between ask for two. Which tool goes where is a matching: as many
// squeezes as possible get one that may be put on their pipe, the better fitting tool first.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "procedure/profile.hpp"
#include "squeeze/tool.hpp"
#include "units/print.hpp"

namespace bellhole::plan {

/// A tool that may be put on the pipe of a squeeze.
struct Suits {
  std::size_t tool = 0;  ///< in the company's list
  std::string stop;      ///< id of the stop that fits there; empty: none was chosen
  squeeze::Stock stops;  ///< of that stop
};

/// One squeeze of a plan, or a place where two may be asked.
struct Need {
  std::string shutoff;       ///< letter
  int least = 1, most = 1;   ///< tools at this place; they differ while one or two is undecided
  std::vector<Suits> suits;  ///< the best fitting first
};

enum class KitItem : std::uint8_t { tool, stop, pump };

/// One line of what is to be laid ready.
struct KitRow {
  KitItem item = KitItem::tool;
  std::string id, of;  ///< of a stop: its tool
  std::int64_t needed = 0, needed_least = 0;
  squeeze::Stock stock;
};

struct KitAnswer {
  std::int64_t tools_needed = 0, tools_needed_least = 0, pumps_needed = 0;
  /// Of all that may be put on at least one of the squeezes; nothing where one is not counted.
  std::optional<std::int64_t> tools_owned, tools_on_truck, pumps_owned, pumps_on_truck;
  std::vector<KitRow> rows;
  /// For each need, the tools it got, one for each squeeze; shorter where there are too few.
  std::vector<std::vector<std::size_t>> tools;
  Findings findings;
};

/// Gives each unit one thing of a kind that suits it, kind k at most capacity[k] times: as many
/// units as possible, earlier ones first (augmenting paths, Kuhn 1955). Nothing for a unit that
/// goes without.
std::vector<std::optional<std::size_t>> matched(const std::vector<std::vector<std::size_t>>& suits,
                                                const std::vector<std::int64_t>& capacity);

/// Without a kit, what is needed and one undecided finding. Rules kit.tools, kit.stops, kit.pumps,
/// kit.truck: too few owned is a halt, too few on the truck a warning, not counted undecided.
KitAnswer kit_of(const std::vector<Need>& needs, const squeeze::Kit* kit,
                 const procedure::Profile& profile, const procedure::Case& in,
                 units::System system);

}  // namespace bellhole::plan
