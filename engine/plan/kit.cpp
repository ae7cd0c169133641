#include "plan/kit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

using squeeze::Kit;
using squeeze::Stock;

/// More than any plan asks for: stands for a count that nobody wrote down.
constexpr std::int64_t uncounted = 1'000'000;

Finding found(std::string rule, Grade grade, std::string says, std::string action) {
  return {.rule = std::move(rule),
          .grade = grade,
          .says = std::move(says),
          .quantity = "kit",
          .unit_si = "1",
          .source = "the company's list of tools",
          .evidence = Evidence::company,
          .action = std::move(action),
          .about = "kit"};
}

/// One tool at one place.
struct Unit {
  std::size_t need = 0;
  bool certain = true;
};

std::vector<Unit> units_of(const std::vector<Need>& needs) {
  std::vector<Unit> units;
  for (const bool certain : {true, false}) {
    for (std::size_t n = 0; n < needs.size(); ++n) {
      const int count = certain ? needs[n].least : needs[n].most - needs[n].least;
      for (int i = 0; i < count; ++i) units.push_back({n, certain});
    }
  }
  return units;
}

class Counter {
 public:
  Counter(const std::vector<Need>& needs, const Kit& kit, const procedure::Profile& profile,
          const procedure::Case& in, units::System system, KitAnswer& answer)
      : needs_(needs), kit_(kit), profile_(profile), in_(in), system_(system), answer_(answer) {}

  void count() {
    const std::vector<Unit> units = units_of(needs_);
    match_tools(units);
    say_tools();
    for (const KitRow& row : answer_.rows) {
      if (row.item == KitItem::stop) say_owned(row, "kit.stops");
    }
    count_pumps(units);
    say_truck();
  }

 private:
  void add(Finding finding) { answer_.findings.push_back(std::move(finding)); }

  void match_tools(const std::vector<Unit>& units) {
    std::vector<std::vector<std::size_t>> suits;
    for (const Unit& unit : units) {
      auto& list = suits.emplace_back();
      for (const Suits& one : needs_[unit.need].suits) list.push_back(one.tool);
    }
    std::vector<std::int64_t> capacity;
    for (const auto& tool : kit_.tools) capacity.push_back(tool.stock.owned.value_or(uncounted));
    const auto got = matched(suits, capacity);
    answer_.tools.resize(needs_.size());
    for (std::size_t i = 0; i < units.size(); ++i) {
      if (!got[i]) {
        (units[i].certain ? short_for_certain_ : short_for_possible_) += 1;
        continue;
      }
      answer_.tools[units[i].need].push_back(*got[i]);
      note(units[i], *got[i]);
    }
    total(answer_.tools_owned, answer_.tools_on_truck);
  }

  void note(const Unit& unit, std::size_t tool) {
    const squeeze::Tool& record = kit_.tools[tool];
    take({KitItem::tool, record.id, "", 1, unit.certain ? 1 : 0, record.stock});
    const auto& suits = needs_[unit.need].suits;
    const auto with = std::ranges::find(suits, tool, &Suits::tool);
    if (with != suits.end() && !with->stop.empty())
      take({KitItem::stop, with->stop, record.id, 1, unit.certain ? 1 : 0, with->stops});
  }

  void take(const KitRow& more) {
    const auto same = std::ranges::find_if(answer_.rows, [&](const KitRow& row) {
      return row.item == more.item && row.id == more.id && row.of == more.of;
    });
    if (same == answer_.rows.end()) {
      answer_.rows.push_back(more);
      return;
    }
    same->needed += more.needed;
    same->needed_least += more.needed_least;
  }

  /// Of all tools that may be put on one of the squeezes at least.
  void total(std::optional<std::int64_t>& owned, std::optional<std::int64_t>& on_truck) const {
    owned = on_truck = 0;
    for (std::size_t t = 0; t < kit_.tools.size(); ++t) {
      const bool may = std::ranges::any_of(needs_, [&](const Need& need) {
        return std::ranges::find(need.suits, t, &Suits::tool) != need.suits.end();
      });
      if (may) sum(kit_.tools[t].stock, owned, on_truck);
    }
  }

  static void sum(const Stock& stock, std::optional<std::int64_t>& owned,
                  std::optional<std::int64_t>& on_truck) {
    const auto more = [](std::optional<std::int64_t>& total, std::optional<std::int64_t> value) {
      if (!value) total.reset();
      if (total) *total += *value;
    };
    more(owned, stock.owned);
    more(on_truck, stock.on_truck);
  }

  [[nodiscard]] std::string places() const {
    std::string text;
    for (const Need& need : needs_) {
      text += fmt::format("{}{} {}", text.empty() ? "" : ", ", need.shutoff,
                          need.least == need.most ? std::to_string(need.most)
                                                  : fmt::format("{} or {}", need.least, need.most));
    }
    return text;
  }

  void say_tools() {
    const std::string bring =
        "borrow what is missing before the day, or shut off some other way; who plans the work "
        "decides";
    if (const auto missing = short_for_certain_ + short_for_possible_; missing > 0) {
      const bool certain = short_for_certain_ > 0;
      const std::int64_t needed = certain ? answer_.tools_needed_least : answer_.tools_needed;
      const std::int64_t given = needed - (certain ? short_for_certain_ : missing);
      Finding finding = found(
          "kit.tools", certain ? Grade::halt : Grade::undecided,
          certain
              ? fmt::format("{} squeeze tools are closed at the same time ({}); of those owned, "
                            "{} may be put on these pipes",
                            needed, places(), given)
              : fmt::format("if two squeezes are asked, {} squeeze tools are closed at the "
                            "same time ({}); of those owned, {} may be put on these pipes",
                            needed, places(), given),
          certain ? bring : "decide between one squeeze and two; " + bring);
      finding.value_si = static_cast<double>(given);
      finding.limit_si = static_cast<double>(needed);
      add(std::move(finding));
    }
    for (const KitRow& row : answer_.rows) {
      if (row.item == KitItem::tool && !row.stock.owned) say_owned(row, "kit.tools");
    }
  }

  [[nodiscard]] static std::string name(const KitRow& row) {
    switch (row.item) {
      case KitItem::tool:
        return "tool " + row.id;
      case KitItem::stop:
        return fmt::format("stop {} of tool {}", row.id, row.of);
      case KitItem::pump:
        return "pump " + row.id;
    }
    return row.id;
  }

  /// Too few owned, or nobody counted.
  void say_owned(const KitRow& row, const std::string& rule) {
    if (!row.stock.owned) {
      add(found(rule, Grade::undecided,
                fmt::format("how many there are of {} is not recorded; {} needed at the same time",
                            name(row), row.needed),
                "count them and enter it in the tools file"));
    } else if (*row.stock.owned < row.needed) {
      const bool certain = *row.stock.owned < row.needed_least;
      Finding finding =
          found(rule, certain ? Grade::halt : Grade::undecided,
                fmt::format("{} of {} needed at the same time{}, {} owned",
                            certain ? row.needed_least : row.needed, name(row),
                            certain ? "" : " if two squeezes are asked", *row.stock.owned),
                "borrow what is missing, or shut off some other way");
      finding.value_si = static_cast<double>(*row.stock.owned);
      finding.limit_si = static_cast<double>(certain ? row.needed_least : row.needed);
      add(std::move(finding));
    }
  }

  // Pumps.

  /// Which pumps may drive a tool; none for one that has no hydraulics.
  [[nodiscard]] std::vector<std::size_t> pumps_for(std::size_t tool) const {
    std::vector<std::size_t> list;
    for (std::size_t p = 0; p < kit_.pumps.size(); ++p) {
      const auto& drives = kit_.pumps[p].tools;
      if (drives.empty() || std::ranges::find(drives, kit_.tools[tool].id) != drives.end())
        list.push_back(p);
    }
    return list;
  }

  void count_pumps(const std::vector<Unit>& units) {
    const procedure::Ruling rule = profile_.ruling("kit.pumps", in_);
    const bool one_a_hole = rule.word() == "each_hole";
    std::vector<std::vector<std::size_t>> suits;
    std::vector<bool> certain;
    std::vector<std::size_t> next(needs_.size(), 0);
    for (const Unit& unit : units) {
      auto& at = next[unit.need];
      if (at >= answer_.tools[unit.need].size()) continue;
      const std::size_t tool = answer_.tools[unit.need][at++];
      if (kit_.tools[tool].drive != squeeze::Drive::hydraulic) continue;
      if (one_a_hole && at > 1) continue;
      suits.push_back(pumps_for(tool));
      certain.push_back(unit.certain);
    }
    answer_.pumps_needed = static_cast<std::int64_t>(suits.size());
    answer_.pumps_owned = answer_.pumps_on_truck = 0;
    for (const auto& pump : kit_.pumps)
      sum(pump.stock, answer_.pumps_owned, answer_.pumps_on_truck);
    if (suits.empty()) return;
    if (kit_.pumps.empty()) {
      answer_.pumps_owned.reset();
      answer_.pumps_on_truck.reset();
      add(found("kit.pumps", Grade::undecided,
                fmt::format("no pumps are listed; the hydraulic tools need {}", suits.size()),
                "enter the pumps in the tools file"));
      return;
    }
    std::vector<std::int64_t> capacity;
    for (const auto& pump : kit_.pumps) capacity.push_back(pump.stock.owned.value_or(uncounted));
    const auto got = matched(suits, capacity);
    bool short_for_certain = false, any_short = false;
    for (std::size_t i = 0; i < got.size(); ++i) {
      if (!got[i]) {
        any_short = true;
        short_for_certain = short_for_certain || certain[i];
        continue;
      }
      const squeeze::Pump& pump = kit_.pumps[*got[i]];
      take({KitItem::pump, pump.id, "", 1, certain[i] ? 1 : 0, pump.stock});
    }
    for (const KitRow& row : answer_.rows) {
      if (row.item == KitItem::pump && !row.stock.owned) say_owned(row, "kit.pumps");
    }
    if (any_short) say_pumps(rule, short_for_certain, got);
  }

  void say_pumps(const procedure::Ruling& rule, bool certain,
                 const std::vector<std::optional<std::size_t>>& got) {
    const auto given = std::ranges::count_if(got, [](const auto& one) { return one.has_value(); });
    if (!rule.word()) {  // with one pump in each hole there might be enough
      add(procedure::not_set(
          rule,
          {.quantity =
               fmt::format("pumps: {} if every tool keeps one, {} owned", got.size(), given),
           .about = "kit",
           .action =
               "decide whether a pump may go from tool to tool once the locks carry the load"},
          system_));
      return;
    }
    Finding finding = found("kit.pumps", certain ? Grade::halt : Grade::undecided,
                            fmt::format("{} pumps are needed at the same time; of those owned, {} "
                                        "drive these tools",
                                        got.size(), given),
                            "borrow what is missing");
    finding.value_si = static_cast<double>(given);
    finding.limit_si = static_cast<double>(got.size());
    add(std::move(finding));
  }

  // The truck.

  void say_truck() {
    std::string unknown, few;
    for (const KitRow& row : answer_.rows) {
      if (!row.stock.on_truck)
        unknown += (unknown.empty() ? "" : ", ") + name(row);
      else if (*row.stock.on_truck < row.needed)
        few += fmt::format("{}{} × {}, {} needed", few.empty() ? "" : "; ", *row.stock.on_truck,
                           name(row), row.needed);
    }
    if (!few.empty())
      add(found(
          "kit.truck", Grade::warn, "on the truck: " + few,
          "fetch the rest before anything is shut; the way there is in no time of this plan"));
    if (!unknown.empty())
      add(found("kit.truck", Grade::undecided,
                "whether the truck carries enough is not recorded: " + unknown,
                "look before leaving, and enter on_truck in the tools file"));
  }

  const std::vector<Need>& needs_;
  const Kit& kit_;
  const procedure::Profile& profile_;
  const procedure::Case& in_;
  units::System system_;
  KitAnswer& answer_;
  std::int64_t short_for_certain_ = 0, short_for_possible_ = 0;
};

}  // namespace

std::vector<std::optional<std::size_t>> matched(const std::vector<std::vector<std::size_t>>& suits,
                                                const std::vector<std::int64_t>& capacity) {
  std::vector<std::vector<std::size_t>> holds(capacity.size());
  std::vector<std::optional<std::size_t>> got(suits.size());
  std::vector<bool> tried;
  const std::function<bool(std::size_t)> seat = [&](std::size_t unit) {
    for (const std::size_t kind : suits[unit]) {
      if (static_cast<std::int64_t>(holds[kind].size()) >= capacity[kind]) continue;
      holds[kind].push_back(unit);
      got[unit] = kind;
      return true;
    }
    for (const std::size_t kind : suits[unit]) {
      if (tried[kind]) continue;
      tried[kind] = true;
      for (std::size_t& other : holds[kind]) {
        // While the other looks for another seat its own is not free for anybody but this unit.
        if (!seat(other)) continue;
        other = unit;
        got[unit] = kind;
        return true;
      }
    }
    return false;
  };
  for (std::size_t unit = 0; unit < suits.size(); ++unit) {
    tried.assign(capacity.size(), false);
    static_cast<void>(seat(unit));
  }
  return got;
}

KitAnswer kit_of(const std::vector<Need>& needs, const Kit* kit, const procedure::Profile& profile,
                 const procedure::Case& in, units::System system) {
  KitAnswer answer;
  for (const Need& need : needs) {
    answer.tools_needed += need.most;
    answer.tools_needed_least += need.least;
  }
  answer.tools.resize(needs.size());
  if (needs.empty()) return answer;
  if (kit == nullptr) {
    answer.findings.push_back(
        found("kit.tools", Grade::undecided,
              fmt::format("no tools are given; {} squeeze tools are closed at the same time",
                          answer.tools_needed),
              "give the company's tools: --tools"));
    return answer;
  }
  Counter(needs, *kit, profile, in, system, answer).count();
  return answer;
}

}  // namespace bellhole::plan
