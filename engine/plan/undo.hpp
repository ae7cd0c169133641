// The way back: how long until gas flows again, beside how long the gas lasts.
//
// Enough flow while opening. A squeeze need not be open for the network behind it to live: with
// the bars a little apart the slot passes what the main carried before (gas/flattened.hpp, its
// slowest end). Time to enough is when the profile's opening pace has brought the bars to the gap
// that passes the flow which went by before anything was shut, from the pressure on the live side
// down to the least pressure behind it. By hand, IPS 4 DR 11 (4.5 in outside, 3.68 in bore) and a
// main that carries 5,000 scfh at 40 psig: a tenth of the bore's height open leaves 19 % of the
// bore, costs at most 54 velocity heads, and passes many times that. So the first tenth of opening
// does it, and closing hardly changes the flow until the last tenth. No published measurement of
// flow against gap is known.
//
// Time left. Customers who had gas before a closing and fall short or out after it, without those
// whose meters are shut and those on the part with the work: the gas in what stays joined to them,
// from its lowest pressure down to the highest of their least ones, against what they draw at the
// high load beyond what still reaches them (linepack/drain.hpp).
//
// A closing whose undoing takes longer than the gas lasts is a point of no return: rule
// plan.no_return, a warning that asks for two names, undecided where one of the times cannot be
// told. Where nobody loses gas by it, it is none.
#pragma once

#include <optional>

#include "gas/gas.hpp"
#include "linepack/drain.hpp"
#include "plan/stage_state.hpp"
#include "squeeze/pace.hpp"

namespace bellhole::plan {

/// A squeeze about to be opened.
struct Opening {
  Length od;
  Length bore;
  Length wall;              ///< the thickest it may be: it opens last
  squeeze::Timetable pace;  ///< from the gap that it stands at to the whole diameter
  MassFlow needed;          ///< what went by before, >= 0
  AbsolutePressure live;    ///< on the side that has gas
  AbsolutePressure behind;  ///< that must be kept on the other side
};

/// When the timetable passes a gap; its end for one beyond it.
Duration when_at(const squeeze::Timetable& pace, Length gap);

/// The gap at which `needed` passes; the whole diameter where no slot passes it. Nothing where
/// `live` is no higher than `behind`. With nothing needed, the gap at which the walls part.
std::optional<Length> gap_for(const Opening& opening, const gas::Flowing& gas);

/// From the first movement until enough flows.
std::optional<Duration> time_to_enough(const Opening& opening, const gas::Flowing& gas);

/// The times of one state, reached by moving `view.ask.moved`; `previous` is the state before it.
struct WayBack {
  std::optional<Duration> undo;       ///< missing: not known, or nothing was moved
  std::optional<Duration> time_left;  ///< missing: not known, or nobody loses gas
  bool somebody_loses = false;        ///< by this closing
  bool at_once = false;  ///< they are out at once: low pressure, or no pressure to spare
  bool no_return = false;
  Findings findings;
};

/// Errors: those of linepack::drain.
Result<WayBack> way_back(const StageView& view, const StageState& previous);

}  // namespace bellhole::plan
