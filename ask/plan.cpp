// "plan": from a place of work on a network to shut-off plans, each with its squeeze sheets.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "ask/conditions.hpp"
#include "ask/documents.hpp"
#include "ask/found.hpp"
#include "ask/place.hpp"
#include "ask/placed.hpp"
#include "plan/plan.hpp"
#include "wire/plan.hpp"
#include "wire/put_back.hpp"
#include "wire/squeeze.hpp"

namespace bellhole::ask {
namespace {

using network::Network;
using wire::Json;

/// The sheet of a squeeze as a document; null for anything else.
Json sheet_of(const plan::Shutoff& shutoff, const procedure::Profile& profile, units::System system,
              const Json& prompts) {
  if (!shutoff.sheet) return nullptr;
  const plan::SqueezeSheet& sheet = *shutoff.sheet;
  Json json;
  if (!sheet.sheet) {
    wire::put_answer(json, sheet.findings, {});
    return json;
  }
  json = wire::sheet_json(*sheet.sheet, sheet.asked, profile, system);
  json["prompts"] = prompts;
  wire::put_answer(json, sheet.findings, sheet.sheet->assumed);
  return json;
}

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

/// Whether a bypass is to be made; nothing where the request leaves it to the order.
Result<std::optional<bool>> bypass_of(const Question& question) {
  BELLHOLE_TRY(word, question.request.text("bypass"));
  if (!word) return std::optional<bool>();
  BELLHOLE_TRY(which, wire::one_of(*word, {"yes", "no"}, "bypass"));
  return std::optional<bool>(which == 0);
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

/// What putting back takes, of every plan.
Result<bool> put_back_all(const plan::Question& asked, const plan::Answer& answer, Json& reply) {
  for (std::size_t i = 0; i < answer.plans.size(); ++i) {
    BELLHOLE_TRY(back, plan::put_back(asked, answer.plans[i]));
    wire::put_back_into(reply["plans"][i], asked.model.network(), back);
  }
  return true;
}

}  // namespace

Answer plan(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(profile, profile_of(question, "us"));
  BELLHOLE_TRY(prompts, prompts_of(question, "us"));
  BELLHOLE_TRY(laid, as_found(question, loaded->network));
  const Network network = held_to(profile, std::move(laid), question.assumed);
  BELLHOLE_TRY(kind_word, request.text("kind"));
  if (!kind_word) question.assumed.push_back("planned work, since no kind was given");
  BELLHOLE_TRY(kind, wire::one_of(kind_word.value_or("planned"), {"planned", "emergency"}, "kind"));
  BELLHOLE_TRY(weather, weather_of(question, network::LoadCase::high));
  BELLHOLE_TRY(year, year_of(question));
  BELLHOLE_TRY(plans, count_of(question, "plans", 3, 20));
  BELLHOLE_TRY(crews, count_of(question, "crews", 1, 100));
  BELLHOLE_TRY(asked_at, request.text("asked_at"));
  BELLHOLE_TRY(work, work_of(question, network));
  BELLHOLE_TRY(pipe_temperature, request.quantity<kinds::Temperature>("pipe_temperature"));
  BELLHOLE_TRY(tools, all_tools_of(question));
  BELLHOLE_TRY(placed, placed_of(question, network, work));
  BELLHOLE_TRY(order, order_of(question, kind == 0 ? plan::Kind::planned : plan::Kind::emergency));
  BELLHOLE_TRY(bypass, bypass_of(question));
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
                             tools ? &*tools : nullptr,
                             pipe_temperature,
                             std::move(placed),
                             &order,
                             bypass};
  BELLHOLE_TRY(answer, plan::plan(asked, question.context.watch));

  const Json prompts_said = wire::prompts_json(prompts);
  Json reply = wire::plan_reply(asked, answer, [&](const plan::Shutoff& shutoff) {
    return sheet_of(shutoff, profile, system, prompts_said);
  });
  BELLHOLE_TRY(back, put_back_all(asked, answer, reply));
  static_cast<void>(back);
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
