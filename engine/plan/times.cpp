#include "plan/times.hpp"

#include <cmath>

#include "squeeze/pace.hpp"

namespace bellhole::plan {
namespace {

std::size_t at(network::Index index) { return static_cast<std::size_t>(index); }

double closing_s(const network::Network& network, const procedure::Profile& profile,
                 network::Index pipe, const procedure::Case& in, Costs& costs) {
  const double speed = costs.value("squeeze.closing_speed", in);
  const Length od = facts_of_main(network, pipe).od;
  if (!(speed > 0.0) || !(od > Length())) return std::nan("");
  const double ratio = network.pipes.ratio[at(pipe)];
  const Length met = std::isfinite(ratio) ? od * (2.0 / ratio) : Length();
  const auto table = squeeze::timetable(
      {.from = od,
       .to = met,
       .speed = Speed::from_si(speed),
       .step = profile.ruling("squeeze.closing_step", in).as<kinds::Length>(),
       .pause = profile.ruling("squeeze.closing_pause", in).as<kinds::Duration>(),
       .mark_every = od,
       .per_count = std::nullopt});
  return table.with_waits.si();
}

}  // namespace

procedure::Case case_of_dig(const network::Network& network, network::Index pipe,
                            procedure::Case in) {
  if (const std::string& surface = network.pipes.surface[at(pipe)]; !surface.empty())
    in[procedure::Listed::surface] = surface;
  if (const double depth = network.pipes.depth[at(pipe)].si(); std::isfinite(depth))
    in[procedure::Ranged::depth] = procedure::Between{depth, depth};
  return in;
}

SqueezeTimes squeeze_times(const network::Network& network, const procedure::Profile& profile,
                           network::Index pipe, const procedure::Case& in, Costs& costs) {
  const procedure::Case dig = case_of_dig(network, pipe, in);
  SqueezeTimes times;
  times.locate = costs.time_s("plan.time_locate", dig);
  times.dig = costs.time_s("plan.time_dig", dig);
  times.set = costs.time_s("plan.time_set", dig);
  times.close = closing_s(network, profile, pipe, in, costs);
  return times;
}

double time_of_squeeze(const network::Network& network, const procedure::Profile& profile,
                       network::Index pipe, int count, const procedure::Case& in, Costs& costs) {
  const SqueezeTimes times = squeeze_times(network, profile, pipe, in, costs);
  return times.locate + times.dig + count * (times.set + times.close);
}

}  // namespace bellhole::plan
