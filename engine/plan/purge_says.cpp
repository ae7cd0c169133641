// What the way of a purge gives to say.
#include <fmt/format.h>

#include "plan/purge_amounts.hpp"

namespace bellhole::plan {
namespace {

using network::Index;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

class Sayer {
 public:
  Sayer(const PurgePathQuestion& q, const PurgeGraph& graph, const std::vector<PurgeLoop>& loops,
        PurgePath& path)
      : q_(q), network_(q.model.network()), graph_(graph), loops_(loops), path_(path) {}

  void say() {
    if (path_.legs.empty())
      add("purge.no_feed", Grade::halt,
          "no gas stands behind any end of the part: nothing purges it",
          "find out what feeds it, or bring gas: a portable supply", "feed");
    for (const auto& [main, vent] : loops_)
      add("purge.loop", Grade::undecided,
          fmt::format("gas comes to {} from both ends: air leaves only from a vent between, at {}",
                      main, vent),
          "make that vent, or shut one of its ends while the other feeds", main);
    say_bores();
    for (const PurgeLeg& leg : path_.legs) say_leg(leg);
    path_.assumed.emplace_back("the whole part holds air: it was vented down and cut open");
    path_.assumed.emplace_back(
        "mains beyond a shut-off, a closed valve or a station kept their gas: no air came there");
  }

 private:
  void add(std::string rule, Grade grade, std::string says, std::string action, std::string about) {
    path_.findings.push_back({.rule = std::move(rule),
                              .grade = grade,
                              .says = std::move(says),
                              .quantity = "way of the purge",
                              .source = "the network with the part shut",
                              .evidence = Evidence::derived,
                              .action = std::move(action),
                              .about = std::move(about)});
  }

  void say_bores() {
    std::string bores;
    for (const PurgeEdge& edge : graph_.edges)
      if (!edge.bore_known) bores += (bores.empty() ? "" : ", ") + network_.pipes.id[at(edge.pipe)];
    if (!bores.empty())
      add("purge.bore", Grade::undecided,
          fmt::format("the bore of {} is not recorded and taken as the smallest beside it: a wider "
                      "one takes more gas to fill",
                      bores),
          "read the print line; purge by the widest that it may be", bores);
  }

  void say_leg(const PurgeLeg& leg) {
    if (leg.feed == Feed::squeeze)
      add("purge.feed_squeeze", Grade::warn,
          fmt::format("{} feeds the purge itself: a squeeze is a poor throttle and slow to shut",
                      leg.from),
          "feed through a bypass or a rider valve, where one can be fitted", leg.from);
    if (!leg.short_of_gas.empty()) {
      std::string ids;
      for (const Index c : leg.short_of_gas)
        ids += (ids.empty() ? "" : ", ") + network_.customers.id[at(c)];
      add("purge.short", Grade::halt,
          fmt::format("while {} feeds the purge, {} customer{} who stay on fall short: {}",
                      leg.from, leg.short_of_gas.size(), leg.short_of_gas.size() == 1 ? "" : "s",
                      ids),
          "purge at a quieter hour or more slowly behind a slug", leg.from);
    }
    if (leg.purging && leg.inlet && *leg.purging < *leg.inlet)
      add("purge.inlet", Grade::halt,
          fmt::format("the purge takes {} at {}, and {} is there while it runs",
                      units::print(*leg.inlet, q_.system, units::Toward::up), leg.from,
                      units::print(*leg.purging, q_.system, units::Toward::down)),
          "take a wider stack, or a slug at a lower speed", leg.from);
    if (leg.end && q_.solve && leg.flow_m3_per_s > 0.0 && !leg.purging)
      add("purge.not_looked_at", Grade::undecided,
          fmt::format(
              "whether the network holds while {} feeds the purge is not looked at: no main "
              "leads to that station's inlet",
              leg.from),
          "watch the station's inlet while it purges", leg.from);
  }

  const PurgePathQuestion& q_;
  const network::Network& network_;
  const PurgeGraph& graph_;
  const std::vector<PurgeLoop>& loops_;
  PurgePath& path_;
};

}  // namespace

void say_way(const PurgePathQuestion& question, const PurgeGraph& graph,
             const std::vector<PurgeLoop>& loops, PurgePath& path) {
  Sayer(question, graph, loops, path).say();
}

}  // namespace bellhole::plan
