#include "job/cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace bellhole::job {
namespace {

std::string word(Answer answer) { return std::string(to_string(answer)); }

struct CellOf {
  using Out = std::optional<Cell>;
  Out operator()(const Planned& fact) const {
    return Cell{"plan", fact.plan_id + " " + fact.result};
  }
  Out operator()(const PlanAccepted& fact) const {
    return Cell{"plan accepted", fact.plan_id + " " + fact.result};
  }
  Out operator()(const PipeFound& fact) const {
    return Cell{"pipe at " + fact.about, pipe_words(fact.found)};
  }
  Out operator()(const Qualified& fact) const {
    return Cell{"qualification of " + fact.person + " for " + fact.task,
                procedure::print_date(fact.expires.last)};
  }
  Out operator()(const Instrument& fact) const {
    return Cell{"instrument " + fact.id,
                fmt::format("{}, due {}", to_string(fact.scale),
                            fact.due ? procedure::print_date(fact.due->last) : "not known")};
  }
  Out operator()(const Kit& fact) const {
    return Cell{"kit " + fact.item + (fact.id.empty() ? "" : " " + fact.id), word(fact.answer)};
  }
  Out operator()(const Prompt& fact) const {
    return Cell{"prompt " + fact.says, word(fact.answer)};
  }
  Out operator()(const StepAnswer& fact) const {
    return Cell{"step " + fact.step, word(fact.answer)};
  }
  Out operator()(const Act& fact) const {
    const bool main = fact.did == Did::cut || fact.did == Did::put_back;
    return Cell{(main ? std::string(to_string(fact.did)) + " " : "shut-off ") + fact.about,
                std::string(to_string(fact.did))};
  }
  Out operator()(const Tested& fact) const {
    return Cell{"test of " + fact.section, "held: " + word(fact.held)};
  }
  Out operator()(const Meter& fact) const {
    return Cell{"meter " + fact.meter, std::string(to_string(fact.did))};
  }
  Out operator()(const Corrected& fact) const {
    const std::string cell = "correction of " + fact.event;
    if (!fact.instead) return Cell{cell, "taken back"};
    const auto inner = cell_of(fact.instead->is);
    return Cell{cell, inner ? inner->says : "another " + std::string(kind_of(fact.instead->is))};
  }
  template <class T>
  Out operator()(const T&) const {
    return {};
  }
};

struct Write {
  std::size_t event = 0;
  std::string says;
};

}  // namespace

std::optional<Cell> cell_of(const AnyFact& fact) { return std::visit(CellOf{}, fact); }

std::vector<Conflict> conflicts_in(const Log& log,
                                   const std::function<const Fact*(const Event&)>& counts) {
  std::map<std::string, std::vector<Write>> cells;
  const auto& events = log.events();
  for (std::size_t i = 0; i < events.size(); ++i) {
    const bool correction = std::holds_alternative<Corrected>(events[i].fact.is);
    const Fact* fact = correction ? &events[i].fact : counts(events[i]);
    if (fact == nullptr) continue;
    auto cell = cell_of(fact->is);
    if (!cell) continue;
    auto& writes = cells[cell->about];
    std::erase_if(writes, [&](const Write& write) { return log.knew(i, write.event); });
    writes.push_back({i, std::move(cell->says)});
  }
  std::vector<Conflict> conflicts;
  for (const auto& [about, writes] : cells) {
    const bool differ = std::ranges::any_of(
        writes, [&](const Write& write) { return write.says != writes.front().says; });
    if (!differ) continue;
    Conflict conflict{about, {}, writes.back().says};
    for (const Write& write : writes) {
      const Event& event = events[write.event];
      conflict.sides.push_back({write.says,
                                {event.happened_at, event.entered_at, event.by, event.device,
                                 event.source, event.hash}});
    }
    conflicts.push_back(std::move(conflict));
  }
  return conflicts;
}

}  // namespace bellhole::job
