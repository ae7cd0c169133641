// Plan documents that a later question goes on from: whatever bytes come in, they end in a script
// or in trouble, and the script has a clock and movements that run forward.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "plan/rehearse.hpp"
#include "wire/profile.hpp"
#include "wire/rehearse.hpp"

namespace {

using namespace bellhole;

/// Names that the corpus uses; nothing of it is solved.
network::Network town() {
  network::Network net;
  net.nodes.id = {"gate", "S", "b", "c", "d", "e", "f", "h"};
  net.pipes.id = {"M0", "M1", "M2", "M3", "M4", "M5", "M6"};
  net.pipes.length.assign(net.pipes.id.size(), Length::from_si(300.0));
  net.valves.id = {"V0", "V1", "V2"};
  net.regulators.id = {"R1"};
  net.sources.id = {"GATE"};
  net.customers.id = {"a1", "b1", "a2", "b2", "a3", "a4", "a5", "H"};
  net.tiers.id = {"60", "40"};
  return net;
}

void play(const plan::Script& script) {
  const auto profile = wire::built_in_profile("us");
  const plan::Clock clock = plan::clock_of(script, *profile, {});
  for (std::size_t i = 0; i < clock.steps.size(); ++i) {
    const bool forward = clock.steps[i].ends >= clock.steps[i].begins &&
                         (i == 0 || clock.steps[i].begins >= clock.steps[i - 1].ends);
    if (!forward) std::abort();
  }
  for (const auto& mover : plan::movements(script, clock, clock.closing.size(), true).movers) {
    for (std::size_t i = 1; i < mover.travel.size(); ++i)
      if (!(mover.travel[i].at > mover.travel[i - 1].at)) std::abort();
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const network::Network net = town();
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const auto reply = wire::read_plan_reply(bytes, "plan");
  if (!reply) return 0;
  for (std::size_t at = 0; at < reply->plans.size(); ++at)
    if (const auto script = wire::read_script(bytes, "plan", *reply, at, net)) play(*script);
  return 0;
}
