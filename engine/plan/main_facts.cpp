#include "plan/main_facts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "network/words.hpp"
#include "procedure/date.hpp"
#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;
using network::Ternary;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

std::string why_not(const network::Pipes& pipes, Index pipe,
                    const std::optional<pipe::Size>& size) {
  const auto material = pipes.material[at(pipe)];
  if (material == network::Material::unknown) return "material not recorded";
  if (material != network::Material::pe) return std::string(network::word(material)) + ", not PE";
  const network::Lining& lining = pipes.lining[at(pipe)];
  for (const auto& [state, word] :
       {std::pair(lining.inserted, "inserted in an old pipe"), std::pair(lining.cased, "cased"),
        std::pair(lining.layered, "layered"), std::pair(lining.lined, "lined")}) {
    if (state == Ternary::yes) return word;
  }
  if (pipes.nominal_size[at(pipe)].empty()) return "size not recorded";
  if (!size) return fmt::format("size '{}' is in no table", pipes.nominal_size[at(pipe)]);
  return "";
}

}  // namespace

MainFacts facts_of_main(const Network& network, Index pipe) {
  MainFacts facts;
  if (auto size = pipe::read_size(network.pipes.nominal_size[at(pipe)], "size")) {
    facts.od = size->od;
    facts.size = std::move(*size);
  }
  facts.why_not_squeezed = why_not(network.pipes, pipe, facts.size);
  return facts;
}

Index tier_of_main(const Network& network, Index pipe) {
  const Index from = network.nodes.tier[at(network.pipes.from[at(pipe)])];
  return from != network::none ? from : network.nodes.tier[at(network.pipes.to[at(pipe)])];
}

procedure::Case case_of_main(const Network& network, Index pipe) {
  procedure::Case c;
  if (const auto size = pipe::read_size(network.pipes.nominal_size[at(pipe)], "size")) {
    c[procedure::Listed::size] = size->name;
    c[procedure::Ranged::od] = procedure::Between{size->od.si(), size->od.si()};
  }
  if (const std::string& grade = network.pipes.grade[at(pipe)]; !grade.empty())
    c[procedure::Listed::material] = grade;
  if (const int year = network.pipes.year[at(pipe)]; year > 0) {
    c[procedure::Ranged::made] =
        procedure::Between{static_cast<double>(procedure::days_from_civil(year, 1, 1)),
                           static_cast<double>(procedure::days_from_civil(year, 12, 31))};
  }
  if (const Index tier = tier_of_main(network, pipe); tier != network::none) {
    c[procedure::Listed::tier] = network.tiers.id[at(tier)];
  }
  return c;
}

namespace {

/// What an unset rule has published beside it, in SI.
std::optional<double> published(const procedure::Ruling& ruling) {
  if (ruling.row == nullptr || !ruling.row->reference) return std::nullopt;
  const auto* number = std::get_if<double>(&ruling.row->reference->value);
  return number == nullptr ? std::nullopt : std::optional(*number);
}

}  // namespace

std::optional<Clearance> clearance_of(const procedure::Profile& profile, const procedure::Case& in,
                                      Length od, std::optional<Length> half_width) {
  const auto diameters = profile.ruling("squeeze.clearance_diameters", in);
  const auto length = profile.ruling("squeeze.clearance", in);
  const auto greater = [&](std::optional<double> times, std::optional<double> metres) {
    return std::max(od * times.value_or(0.0), Length::from_si(metres.value_or(0.0)));
  };
  Clearance clearance{greater(diameters.number(), length.number()), Clearance::By::profile};
  if (!diameters.number() && !length.number()) {
    clearance.distance = greater(published(diameters), published(length));
    clearance.by =
        clearance.distance > Length() ? Clearance::By::reference : Clearance::By::nothing;
  }
  if (profile.ruling("squeeze.clearance_from", in).word() != "tool_edge") return clearance;
  if (!half_width) return std::nullopt;
  clearance.distance = clearance.distance + *half_width;
  return clearance;
}

Finding clearance_finding(const procedure::Profile& profile, const procedure::Case& in,
                          Clearance::By by, units::System system) {
  const bool diameters = published(profile.ruling("squeeze.clearance_diameters", in)).has_value();
  Finding finding = procedure::not_set(
      profile.ruling(diameters ? "squeeze.clearance_diameters" : "squeeze.clearance", in),
      {"clearance", std::nullopt, "places", "", ""}, system);
  finding.says += by == Clearance::By::reference
                      ? "; the places of this plan keep the published distance meanwhile"
                      : "; the places of this plan lie in the middle between their neighbours";
  return finding;
}

GaugePressure line_pressure(const Network& network, const network::SteadyState& state, Index pipe) {
  if (const Index tier = tier_of_main(network, pipe); tier != network::none) {
    if (const GaugePressure maop = network.tiers.maop[at(tier)]; std::isfinite(maop.si()))
      return maop;
  }
  const double from = state.node_pressure[at(network.pipes.from[at(pipe)])].si();
  const double to = state.node_pressure[at(network.pipes.to[at(pipe)])].si();
  return GaugePressure::from_si(std::fmax(from, to));
}

}  // namespace bellhole::plan
