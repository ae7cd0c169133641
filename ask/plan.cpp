// "plan": from a place of work on a network to shut-off plans, each with its squeeze sheets.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "ask/conditions.hpp"
#include "ask/documents.hpp"
#include "ask/place.hpp"
#include "plan/main_facts.hpp"
#include "plan/plan.hpp"
#include "wire/plan.hpp"
#include "wire/squeeze.hpp"

namespace bellhole::ask {
namespace {

using network::Index;
using network::Network;
using wire::Json;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

// Squeeze sheets of a plan.

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

/// The main as the map has it. A grade in no table stays unknown, which never passes.
squeeze::Found found_on_map(const Network& network, const plan::Shutoff& shutoff,
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
  const Index tier = plan::tier_of_main(network, shutoff.place.pipe);
  if (tier != network::none && std::isfinite(network.tiers.maop[at(tier)].si()))
    found.maop = network.tiers.maop[at(tier)];
  return found;
}

class Sheets {
 public:
  Sheets(const Network& network, const procedure::Profile& profile, units::System system)
      : network_(network), profile_(profile), system_(system) {}

  Result<bool> read(const Question& question) {
    BELLHOLE_TRY(temperature, question.request.quantity<kinds::Temperature>("pipe_temperature"));
    temperature_ = temperature;
    BELLHOLE_TRY(tools, all_tools_of(question));
    tools_ = std::move(tools);
    return true;
  }

  /// Of all tools given; nothing where none records one.
  [[nodiscard]] std::optional<Length> widest_half_width() const {
    std::optional<Length> widest;
    if (!tools_) return widest;
    for (const squeeze::Tool& tool : tools_->tools)
      if (tool.half_width) widest = std::max(widest.value_or(Length()), *tool.half_width);
    return widest;
  }

  /// The sheet with the company's tool that finds the least against it; without tools, the sheet of
  /// the pipe.
  [[nodiscard]] Json operator()(const plan::Shutoff& shutoff) const {
    if (shutoff.place.kind != plan::ShutKind::squeeze) return nullptr;
    const auto facts = plan::facts_of_main(network_, shutoff.place.pipe);
    squeeze::Question asked;
    asked.pipe = found_on_map(network_, shutoff, *facts.size);
    asked.pipe.temperature = temperature_;
    asked.two = shutoff.place.squeezes == plan::Squeezes::two;
    Json best = sheet(asked);
    if (!tools_) return best;
    bool first = true;
    int grade = 0;
    for (const squeeze::Tool& tool : tools_->tools) {
      squeeze::Question with = asked;
      with.tool = tool;
      if (!tools_->stops.empty()) with.stops = tools_->stops;
      const auto assessed = assessed_of(with);
      if (!assessed) continue;
      const int now = static_cast<int>(verdict_of(assessed->findings));
      if (!first && now <= grade) continue;
      first = false;
      grade = now;
      best = sheet(with);
    }
    return best;
  }

 private:
  /// Without "no place is looked for": the plan has looked, on the map.
  [[nodiscard]] Result<squeeze::Sheet> assessed_of(const squeeze::Question& asked) const {
    auto assessed = squeeze::assess(asked, profile_, system_);
    if (assessed)
      std::erase_if(assessed->findings,
                    [](const Finding& finding) { return finding.rule == "squeeze.place"; });
    return assessed;
  }

  [[nodiscard]] Json sheet(const squeeze::Question& asked) const {
    const auto assessed = assessed_of(asked);
    Json json;
    if (!assessed) {  // a ratio on the map that the size does not have: said, and nothing computed
      Finding finding{.rule = "squeeze.pipe",
                      .grade = Grade::halt,
                      .says = fmt::format("{}: {}", assessed.error().value, assessed.error().fix),
                      .quantity = "pipe as recorded",
                      .source = "network as imported",
                      .evidence = Evidence::derived,
                      .action = "find out what pipe this is before the day",
                      .about = assessed.error().where};
      wire::put_answer(json, {finding}, {});
      return json;
    }
    json = wire::sheet_json(*assessed, asked, profile_, system_);
    wire::put_answer(json, assessed->findings, assessed->assumed);
    return json;
  }

  const Network& network_;
  const procedure::Profile& profile_;
  units::System system_;
  std::optional<Temperature> temperature_;
  std::optional<wire::Tools> tools_;
};

/// 2026.9 from "2026-11-25"; nan where none is given.
Result<double> year_of(const Question& question) {
  BELLHOLE_TRY(date, question.request.text("date"));
  if (!date) {
    question.assumed.push_back(
        "no date was given: how old a valve's last operation is cannot be told");
    return std::numeric_limits<double>::quiet_NaN();
  }
  BELLHOLE_TRY(days, procedure::parse_date(*date, "date"));
  return 1970.0 + days.last / 365.2425;
}

Result<std::size_t> count_of(const Question& question, std::string_view key, std::int64_t otherwise,
                             std::int64_t most) {
  BELLHOLE_TRY(count, question.request.whole(key));
  if (count && (*count < 1 || *count > most)) {
    return trouble(Code::out_of_range, std::string(key), std::to_string(*count),
                   fmt::format("give a number from 1 to {}", most));
  }
  return static_cast<std::size_t>(count.value_or(otherwise));
}

/// The network with the least pressures that the procedure sets by tier, where they are higher than
/// the map's.
Network held_to(const procedure::Profile& profile, Network network,
                std::vector<std::string>& assumed) {
  for (std::size_t t = 0; t < network.tiers.size(); ++t) {
    procedure::Case in;
    in[procedure::Listed::tier] = network.tiers.id[t];
    const auto least = profile.ruling("plan.pressure_least", in).as<kinds::GaugePressure>();
    if (!least || *least <= network.tiers.least[t]) continue;
    network.tiers.least[t] = *least;
    assumed.push_back(
        fmt::format("least pressure of tier {}: the procedure's, which is higher than the map's",
                    network.tiers.id[t]));
  }
  return network;
}

/// The findings of the whole answer: its own, and the best plan's with its shut-offs and squeezes,
/// since that is the plan a reader takes first.
Findings all_findings(const plan::Answer& answer, const Json& reply) {
  Findings all = answer.findings;
  if (answer.plans.empty()) return all;
  append(all, answer.plans.front().findings);
  for (const plan::Shutoff& shutoff : answer.plans.front().shutoffs) append(all, shutoff.findings);
  for (const Json& shutoff : reply.at("plans").at(0).at("shutoffs")) {
    const Json& sheet = shutoff.at("squeeze");
    if (!sheet.is_object()) continue;
    const std::string verdict = sheet.at("verdict").get<std::string>();
    const auto grade = grade_from(verdict);
    if (!grade) continue;
    all.push_back({.rule = "plan.squeeze_sheet",
                   .grade = *grade,
                   .says = fmt::format("the squeeze at {} reads {}",
                                       shutoff.at("id").get<std::string>(), verdict),
                   .quantity = "verdict of the squeeze sheet",
                   .source = "assessment of the pipe as the map has it",
                   .evidence = Evidence::derived,
                   .action = "read its sheet",
                   .about = shutoff.at("id").get<std::string>()});
  }
  return all;
}

}  // namespace

Answer plan(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(profile, profile_of(question, "us"));
  const Network network = held_to(profile, loaded->network, question.assumed);
  BELLHOLE_TRY(kind_word, request.text("kind"));
  if (!kind_word) question.assumed.push_back("planned work, since no kind was given");
  BELLHOLE_TRY(kind, wire::one_of(kind_word.value_or("planned"), {"planned", "emergency"}, "kind"));
  BELLHOLE_TRY(weather, weather_of(question, network::LoadCase::high));
  BELLHOLE_TRY(year, year_of(question));
  BELLHOLE_TRY(plans, count_of(question, "plans", 3, 20));
  BELLHOLE_TRY(crews, count_of(question, "crews", 1, 100));
  BELLHOLE_TRY(asked_at, request.text("asked_at"));
  BELLHOLE_TRY(work, work_of(question, network));
  Sheets sheets(network, profile, system);
  BELLHOLE_TRY(sheets_read, sheets.read(question));
  static_cast<void>(sheets_read);
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);

  BELLHOLE_TRY(model, network::Model::prepare(network, weather.conditions));
  const plan::Question asked{model,
                             profile,
                             work,
                             kind == 0 ? plan::Kind::planned : plan::Kind::emergency,
                             weather.scenario,
                             year,
                             plans,
                             static_cast<std::int64_t>(crews),
                             true,
                             system,
                             sheets.widest_half_width()};
  BELLHOLE_TRY(answer, plan::plan(asked, question.context.watch));

  Json reply = wire::plan_reply(asked, answer, sheets);
  reply["question"] = "plan";
  reply["units"] = system == units::System::us ? "us" : "metric";
  reply["kind"] = kind == 0 ? "planned" : "emergency";
  Json identity = request.json();
  identity["engine"] = wire::engine_version();
  reply["plan_id"] = wire::sha256(wire::canonical(identity));
  reply["network"] = {{"name", network.name},
                      {"hash", hash},
                      {"crs", network.crs},
                      {"imported_from", network.imported_from},
                      {"map_date", network.map_date}};
  Json conditions;
  wire::put(conditions, "temperature", weather.scenario.air);
  wire::put(conditions, "hour", weather.scenario.hour);
  conditions["load"] = "high for the lowest pressures, low for the highest";
  conditions["law"] = gas::name(weather.conditions.law);
  conditions["procedure"] = profile.id();
  conditions["procedure_title"] = profile.title();
  conditions["crews"] = crews;
  conditions["asked_at"] = asked_at ? Json(*asked_at) : Json(nullptr);
  reply["conditions"] = conditions;
  for (const std::string& line : answer.assumed) question.assumed.push_back(line);
  wire::put_answer(reply, all_findings(answer, reply), question.assumed);
  return reply;
}

}  // namespace bellhole::ask
