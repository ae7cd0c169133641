#include "plan/outfit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/main_facts.hpp"

namespace bellhole::plan {
namespace {

using network::Network;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

pipe::Told told(network::Ternary answer) {
  switch (answer) {
    case network::Ternary::no:
      return pipe::Told::no;
    case network::Ternary::yes:
      return pipe::Told::yes;
    case network::Ternary::unknown:
      break;
  }
  return pipe::Told::unknown;
}

/// Without "no place is looked for": the plan has looked, on the map.
SqueezeSheet sheet_of(const squeeze::Question& asked, const procedure::Profile& profile,
                      units::System system) {
  SqueezeSheet sheet{asked, std::nullopt, {}, std::nullopt};
  auto assessed = squeeze::assess(asked, profile, system);
  if (!assessed) {  // a ratio on the map that the size does not have: said, and nothing computed
    sheet.findings = {{.rule = "squeeze.pipe",
                       .grade = Grade::halt,
                       .says = fmt::format("{}: {}", assessed.error().value, assessed.error().fix),
                       .quantity = "pipe as recorded",
                       .source = "network as imported",
                       .evidence = Evidence::derived,
                       .action = "find out what pipe this is before the day",
                       .about = assessed.error().where}};
    return sheet;
  }
  std::erase_if(assessed->findings,
                [](const Finding& finding) { return finding.rule == "squeeze.place"; });
  sheet.findings = assessed->findings;
  sheet.sheet = std::move(*assessed);
  return sheet;
}

/// Nothing about the tool itself, nor about its stops, forbids it on this pipe.
bool may_be_used(const SqueezeSheet& sheet) {
  return sheet.sheet && std::ranges::none_of(sheet.findings, [](const Finding& finding) {
           return finding.grade == Grade::halt &&
                  (finding.rule.starts_with("tool.") || finding.rule == "squeeze.stop");
         });
}

/// A squeeze with every tool tried on it, the one with the least against it first.
struct Tried {
  std::size_t shutoff = 0;
  SqueezeSheet without;  ///< any tool
  std::vector<SqueezeSheet> with;
};

class Outfitter {
 public:
  Outfitter(const Question& question, ShutoffPlan& plan)
      : question_(question), network_(question.model.network()), plan_(plan) {}

  void fill(const Places& places, const isolate::Cut& cut) {
    std::vector<Need> needs;
    for (std::size_t s = 0; s < plan_.shutoffs.size(); ++s) {
      if (plan_.shutoffs[s].place.kind != ShutKind::squeeze) continue;
      tried_.push_back(try_tools(s));
      needs.push_back(need_of(tried_.back()));
    }
    plan_.kit = kit_of(needs, question_.kit, question_.profile, work_case(), question_.system);
    std::vector<HoleAsk> asks;
    for (std::size_t i = 0; i < tried_.size(); ++i) {
      Shutoff& shutoff = plan_.shutoffs[tried_[i].shutoff];
      shutoff.sheet = chosen(tried_[i], plan_.kit.tools[i]);
      const auto& sheet = shutoff.sheet->sheet;
      const bool tool = sheet && sheet->tool;
      asks.push_back({tried_[i].shutoff, shutoff.letter, shutoff.place,
                      toward_part(places, cut, shutoff.place),
                      tool ? sheet->tool->half_width : std::optional<Length>(),
                      tool ? sheet->tool->id : std::string()});
    }
    plan_.hole =
        hole_of(network_, question_.work, asks, question_.profile, work_case(), question_.system);
    append(plan_.findings, plan_.kit.findings);
    append(plan_.findings, plan_.hole.findings);
  }

 private:
  procedure::Case work_case() const {
    procedure::Case in;
    in[procedure::Listed::work] = question_.kind == Kind::planned ? "planned" : "emergency";
    return in;
  }

  Tried try_tools(std::size_t s) const {
    const Shutoff& shutoff = plan_.shutoffs[s];
    squeeze::Question asked;
    const auto facts = facts_of_main(network_, shutoff.place.pipe);
    asked.pipe = found_on_map(network_, shutoff, *facts.size);
    asked.pipe.temperature = question_.pipe_temperature;
    asked.two = shutoff.place.squeezes == Squeezes::two;
    Tried tried{s, sheet_of(asked, question_.profile, question_.system), {}};
    if (question_.kit == nullptr) return tried;
    for (std::size_t t = 0; t < question_.kit->tools.size(); ++t) {
      squeeze::Question with = asked;
      with.tool = question_.kit->tools[t];
      if (!question_.kit->stops.empty()) with.stops = question_.kit->stops;
      SqueezeSheet sheet = sheet_of(with, question_.profile, question_.system);
      if (!sheet.sheet) continue;
      sheet.tool = t;
      tried.with.push_back(std::move(sheet));
    }
    std::ranges::stable_sort(tried.with, std::ranges::greater(), [](const SqueezeSheet& sheet) {
      return static_cast<int>(verdict_of(sheet.findings));
    });
    return tried;
  }

  Need need_of(const Tried& tried) const {
    const Shutoff& shutoff = plan_.shutoffs[tried.shutoff];
    Need need{shutoff.letter,
              shutoff.place.squeezes == Squeezes::two ? 2 : 1,
              shutoff.place.squeezes == Squeezes::one ? 1 : 2,
              {}};
    for (const SqueezeSheet& sheet : tried.with) {
      if (!may_be_used(sheet)) continue;
      Suits suits{*sheet.tool, "", {}};
      if (sheet.sheet->chosen) {
        const squeeze::Stop& stop = sheet.sheet->stops[*sheet.sheet->chosen].stop;
        suits.stop = stop.id;
        suits.stops = stop.stock;
      }
      need.suits.push_back(std::move(suits));
    }
    return need;
  }

  /// With the tool that it got, else with the best that there is.
  static SqueezeSheet chosen(Tried& tried, const std::vector<std::size_t>& got) {
    if (tried.with.empty()) return std::move(tried.without);
    auto sheet = tried.with.begin();
    if (!got.empty()) sheet = std::ranges::find(tried.with, got.front(), &SqueezeSheet::tool);
    return std::move(*sheet);
  }

  const Question& question_;
  const Network& network_;
  ShutoffPlan& plan_;
  std::vector<Tried> tried_;
};

}  // namespace

squeeze::Found found_on_map(const Network& network, const Shutoff& shutoff,
                            const pipe::Size& size) {
  const auto& pipes = network.pipes;
  const std::size_t p = at(shutoff.place.pipe);
  squeeze::Found found;
  found.size = size;
  if (std::isfinite(pipes.ratio[p])) found.ratio = pipes.ratio[p];
  if (const auto material = pipe::read_material(pipes.grade[p], "grade"))
    found.material = *material;
  if (pipes.year[p] > 0) {
    found.made = procedure::Days{procedure::days_from_civil(pipes.year[p], 1, 1),
                                 procedure::days_from_civil(pipes.year[p], 12, 31)};
  }
  found.lining = {told(pipes.lining[p].inserted), told(pipes.lining[p].cased),
                  told(pipes.lining[p].layered), told(pipes.lining[p].lined)};
  if (std::isfinite(shutoff.pressure_now.si())) found.pressure = shutoff.pressure_now;
  const network::Index tier = tier_of_main(network, shutoff.place.pipe);
  if (tier != network::none && std::isfinite(network.tiers.maop[at(tier)].si()))
    found.maop = network.tiers.maop[at(tier)];
  return found;
}

std::optional<Length> widest_half_width(const squeeze::Kit& kit) {
  std::optional<Length> widest;
  for (const squeeze::Tool& tool : kit.tools)
    if (tool.half_width) widest = std::max(widest.value_or(Length()), *tool.half_width);
  return widest;
}

void outfit(const Question& question, const Places& places, const isolate::Cut& cut,
            ShutoffPlan& plan) {
  Outfitter(question, plan).fill(places, cut);
}

}  // namespace bellhole::plan
