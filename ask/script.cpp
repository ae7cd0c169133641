#include "ask/script.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ask/documents.hpp"
#include "ask/shutting.hpp"
#include "units/parse.hpp"
#include "wire/rehearse.hpp"

namespace bellhole::ask {
namespace {

constexpr double hour_s = 3600.0, day_h = 24.0;

bool is_step(const plan::Script& script, const std::string& name) {
  return std::ranges::any_of(script.steps, [&](const plan::Step& step) {
    return step.id == name || to_string(step.kind) == name;
  });
}

}  // namespace

Result<std::optional<LaidPlan>> laid_plan(const Question& question, const LoadedNetwork& loaded) {
  BELLHOLE_TRY(given, plan_given(question, loaded.hash));
  if (!given) return std::optional<LaidPlan>();
  BELLHOLE_TRY(bytes, plan_bytes_of(question, "plan"));
  BELLHOLE_TRY(script, wire::read_script(bytes, "plan", given->reply, given->at, loaded.network));
  return std::optional(LaidPlan{std::move(*given), std::move(script)});
}

Result<Weather> weather_of_plan(const Question& question, const LaidPlan& plan,
                                network::LoadCase otherwise) {
  BELLHOLE_TRY(start, question.request.text("start"));
  if (start && question.request.has("hour"))
    return trouble(Code::contradiction, question.request.at("start"), *start,
                   "give the start or the hour, not both");
  const wire::PlanReply& reply = plan.given.reply;
  std::optional<double> hour = reply.hour;
  if (start) {
    BELLHOLE_TRY(clock, clock_hour(*start, question.request.at("start")));
    hour = std::fmod(clock, day_h);
  }
  return weather_of(question, otherwise,
                    {.air = reply.air, .hour = hour, .hour_given = start.has_value()});
}

Result<std::vector<network::Weather>> temperature_course(const Question& question,
                                                         double begins_hour) {
  BELLHOLE_TRY(texts, question.request.texts("temperature_course"));
  const std::string where = question.request.at("temperature_course");
  std::vector<network::Weather> weather;
  double before = -1.0, days = 0.0;
  for (const std::string& text : texts) {
    const auto blank = text.find(' ');
    if (blank == std::string::npos)
      return trouble(Code::unreadable_value, where, text,
                     "give the time and the temperature from then on: \"09:00 24degF\"");
    BELLHOLE_TRY(clock, clock_hour(text.substr(0, blank), where));
    BELLHOLE_TRY(air, units::parse<kinds::Temperature>(text.substr(blank + 1), where));
    if (!air.assumed.empty()) question.assumed.push_back(air.assumed);
    double hours = clock - begins_hour;
    if (weather.empty() && hours < 0.0) days = 1.0;
    hours += days * day_h;
    if (!(hours > before))
      return trouble(Code::contradiction, where, text,
                     "give the times in order, from the start of the first step on, within a day");
    before = hours;
    weather.push_back({Duration::from_si(hours * hour_s), air.value});
  }
  if (weather.empty()) question.assumed.emplace_back("the air stays as cold as it is at the start");
  return weather;
}

Result<plan::Takes> times_said(const Question& question, const plan::Script& script) {
  BELLHOLE_TRY(texts, question.request.texts("takes"));
  const std::string where = question.request.at("takes");
  plan::Takes times;
  for (const std::string& text : texts) {
    const auto equals = text.find('=');
    if (equals == std::string::npos)
      return trouble(Code::unreadable_value, where, text,
                     "give a step and its time: \"cut=2h\", by id or by kind");
    const std::string name = text.substr(0, equals);
    if (!is_step(script, name))
      return trouble(Code::unknown_element, where, name,
                     "no step of this plan has that id or kind");
    BELLHOLE_TRY(takes, units::parse<kinds::Duration>(text.substr(equals + 1), where));
    constexpr double longest_s = 30.0 * 24.0 * 3600.0;  // nobody rehearses longer
    if (!(takes.value.si() >= 0.0 && takes.value.si() <= longest_s))
      return trouble(Code::out_of_range, where, text, "give a time from nought to 30 days");
    times[name] = takes.value;
  }
  return times;
}

void say_no_pace(const plan::Script& script, std::vector<std::string>& assumed) {
  std::vector<std::string> letters;
  for (const plan::ScriptShutoff& shutoff : script.shutoffs)
    if (shutoff.place.kind == plan::ShutKind::squeeze && shutoff.closing.empty())
      letters.push_back(shutoff.letter);
  if (letters.empty()) return;
  assumed.push_back(fmt::format(
      "{}: no squeeze sheet says how fast; taken to close and open at once, the short end",
      fmt::join(letters, ", ")));
}

}  // namespace bellhole::ask
