#include "plan/affected.hpp"

#include <algorithm>

namespace bellhole::plan {
namespace {

struct Gathered {
  std::vector<std::uint8_t> known;  ///< per customer
  std::vector<Affected> list;

  void add(const std::vector<network::Index>& customers, std::size_t stage, bool out) {
    for (const network::Index customer : customers) {
      std::uint8_t& seen = known[static_cast<std::size_t>(customer)];
      if (seen != 0) continue;
      seen = 1;
      list.push_back({customer, stage, out});
    }
  }
};

network::Scenario at_high_load(network::Scenario scenario) {
  scenario.load = network::LoadCase::high;
  return scenario;
}

}  // namespace

Result<std::vector<Affected>> affected(const network::Model& model, const network::Scenario& before,
                                       std::span<const network::Scenario> stages, Watch& watch) {
  BELLHOLE_TRY(open, model.solve(at_high_load(before)));
  std::vector<std::uint8_t> short_before(model.network().customers.size(), 0);
  for (const network::Index c : open.customers_short) short_before[static_cast<std::size_t>(c)] = 1;
  Gathered gathered{std::vector<std::uint8_t>(model.network().customers.size(), 0), {}};
  gathered.add(open.customers_out, stages.size(), true);  // without gas whatever is shut
  gathered.list.clear();
  for (std::size_t i = 0; i < stages.size(); ++i) {
    if (!watch.tick(static_cast<double>(i) / static_cast<double>(stages.size())))
      return trouble(Code::cancelled, "stages", "", "asked to stop");
    BELLHOLE_TRY(state, model.solve(at_high_load(stages[i]), &open));
    gathered.add(state.customers_out, i, true);
    std::erase_if(state.customers_short,
                  [&](network::Index c) { return short_before[static_cast<std::size_t>(c)] != 0; });
    gathered.add(state.customers_short, i, false);
  }
  std::ranges::sort(gathered.list, {}, &Affected::customer);
  return gathered.list;
}

}  // namespace bellhole::plan
