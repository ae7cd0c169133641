#include "wire/pressure_test.hpp"

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>

#include "units/parse.hpp"
#include "wire/closed.hpp"
#include "wire/squeeze.hpp"

namespace bellhole::wire {
namespace {

using restore::End;
using restore::TestQuestion;
using restore::TestReading;

constexpr std::array end_words{"blank", "cap", "valve", "live_valve", "squeeze"};
constexpr std::array judgement_words{"no_leak_found", "leak", "not_explained"};
constexpr std::array soap_words{"not_told", "no_bubbles", "bubbles"};

std::vector<std::string> split(const std::string& text, char between) {
  std::vector<std::string> parts;
  for (std::size_t from = 0; from <= text.size();) {
    const auto to = std::min(text.find(between, from), text.size());
    if (to > from || between != ' ') parts.push_back(text.substr(from, to - from));
    from = to + 1;
  }
  return parts;
}

/// "94psi 84degF 14.6psia": pressure, temperature of the gas, barometer; the first is needed.
Result<TestReading> typed_reading(const Object& request, std::string_view key,
                                  const std::string& text) {
  const std::vector<std::string> parts = split(text, ' ');
  const std::string where = request.at(key);
  if (parts.empty() || parts.size() > 3) {
    return trouble(Code::unreadable_value, where, text,
                   "write gauge, temperature and, if read, barometer: 94psi 84degF 14.6psia");
  }
  BELLHOLE_TRY(pressure, units::parse<kinds::GaugePressure>(parts[0], where));
  TestReading reading{.pressure = pressure.value, .temperature = {}, .barometer = {}};
  if (!pressure.assumed.empty() && request.assumed() != nullptr)
    request.assumed()->push_back(pressure.assumed);
  if (parts.size() > 1) {
    BELLHOLE_TRY(temperature, units::parse<kinds::Temperature>(parts[1], where));
    reading.temperature = temperature.value;
  }
  if (parts.size() > 2) {
    BELLHOLE_TRY(barometer, units::parse<kinds::AbsolutePressure>(parts[2], where));
    reading.barometer = barometer.value;
  }
  return reading;
}

Result<std::optional<TestReading>> read_reading(const Object& request, std::string_view key) {
  const auto found = request.json().find(std::string(key));
  if (found != request.json().end() && found->is_string()) {
    BELLHOLE_TRY(text, request.text(key));
    BELLHOLE_TRY(reading, typed_reading(request, key, *text));
    return std::optional(reading);
  }
  BELLHOLE_TRY(object, request.object(key));
  if (!object) return std::optional<TestReading>();
  BELLHOLE_TRY(pressure,
               object->need<kinds::GaugePressure>("pressure", "say what the gauge reads"));
  BELLHOLE_TRY(temperature, object->quantity<kinds::Temperature>("temperature"));
  BELLHOLE_TRY(barometer, object->quantity<kinds::AbsolutePressure>("barometer"));
  BELLHOLE_TRY(done, object->done());
  static_cast<void>(done);
  return std::optional(TestReading{pressure, temperature, barometer});
}

/// "blank,cap" or a list of words.
Result<std::vector<End>> read_ends(const Object& request) {
  std::vector<std::string> typed;
  const auto found = request.json().find("ends");
  if (found != request.json().end() && found->is_string()) {
    BELLHOLE_TRY(text, request.text("ends"));
    typed = split(*text, ',');
  } else {
    BELLHOLE_TRY(texts, request.texts("ends"));
    typed = texts;
  }
  std::vector<End> ends;
  for (const std::string& text : typed) {
    BELLHOLE_TRY(which, one_of(text, {"blank", "cap", "valve", "live_valve", "squeeze"},
                               request.at("ends")));
    ends.push_back(static_cast<End>(which));
  }
  return ends;
}

/// "gauge hose@150psig": a part and its rating.
Result<std::vector<restore::Part>> read_parts(const Object& request) {
  std::vector<restore::Part> parts;
  BELLHOLE_TRY(texts, request.texts("parts"));
  for (const std::string& text : texts) {
    const auto at = text.find('@');
    if (at == 0 || at == std::string::npos)
      return trouble(Code::unreadable_value, request.at("parts"), text,
                     "write the part and its rating: gauge hose@150psig");
    BELLHOLE_TRY(rated,
                 units::parse<kinds::GaugePressure>(text.substr(at + 1), request.at("parts")));
    parts.push_back({text.substr(0, at), rated.value});
  }
  return parts;
}

/// An id and, behind an @, what was read: "P-118@95psig 1h". Trouble where the id is missing.
Result<std::pair<std::string, std::vector<std::string>>> id_and_rest(const std::string& text,
                                                                     const std::string& where,
                                                                     const char* fix) {
  const auto at = text.find('@');
  if (at == 0 || text.empty()) return trouble(Code::unreadable_value, where, text, fix);
  return std::pair(text.substr(0, at), at == std::string::npos ? std::vector<std::string>()
                                                               : split(text.substr(at + 1), ' '));
}

/// "P-118@95psig 1h": pipe, its test pressure and, if on its record, for how long.
Result<std::vector<restore::Pretested>> read_pretested(const Object& request) {
  constexpr auto fix = "write the pipe's id, its test pressure and for how long: P-118@95psig 1h";
  const std::string where = request.at("pretested");
  std::vector<restore::Pretested> pipes;
  BELLHOLE_TRY(texts, request.texts("pretested"));
  for (const std::string& text : texts) {
    BELLHOLE_TRY(read, id_and_rest(text, where, fix));
    const auto& [id, rest] = read;
    if (rest.empty() || rest.size() > 2) return trouble(Code::unreadable_value, where, text, fix);
    BELLHOLE_TRY(pressure, units::parse<kinds::GaugePressure>(rest[0], where));
    restore::Pretested pipe{id, pressure.value, std::nullopt};
    if (rest.size() == 2) {
      BELLHOLE_TRY(duration, units::parse<kinds::Duration>(rest[1], where));
      pipe.duration = duration.value;
    }
    pipes.push_back(std::move(pipe));
  }
  return pipes;
}

/// "J-1", not soaped yet; "J-1@58psig no bubbles", "J-1@58psig bubbles".
Result<std::vector<restore::TieIn>> read_tie_ins(const Object& request) {
  constexpr auto fix =
      "write the joint, and once it is soaped the pressure and what was seen: "
      "J-1@58psig no bubbles, or J-1@58psig bubbles";
  const std::string where = request.at("tie_ins");
  std::vector<restore::TieIn> joints;
  BELLHOLE_TRY(texts, request.texts("tie_ins"));
  for (const std::string& text : texts) {
    BELLHOLE_TRY(read, id_and_rest(text, where, fix));
    const auto& [id, rest] = read;
    restore::TieIn joint{id, std::nullopt, restore::Soaped::not_told};
    if (!rest.empty()) {
      BELLHOLE_TRY(pressure, units::parse<kinds::GaugePressure>(rest[0], where));
      joint.pressure = pressure.value;
      const bool none = rest.size() == 3 && rest[1] == "no" && rest[2] == "bubbles";
      const bool some = rest.size() == 2 && rest[1] == "bubbles";
      if (rest.size() > 1 && !none && !some)
        return trouble(Code::unreadable_value, where, text, fix);
      joint.shows = none   ? restore::Soaped::no_bubbles
                    : some ? restore::Soaped::bubbles
                           : restore::Soaped::not_told;
    }
    joints.push_back(std::move(joint));
  }
  return joints;
}

template <class Kind>
Json band(const std::optional<restore::Low_high<Quantity<Kind>>>& value) {
  if (!value) return {{"low", nullptr}, {"high", nullptr}};
  return {{"low", number_or_null(value->low.si())}, {"high", number_or_null(value->high.si())}};
}

Json reading_json(const std::optional<TestReading>& reading) {
  if (!reading) return nullptr;
  Json json;
  put(json, "pressure", reading->pressure);
  put(json, "temperature", reading->temperature);
  put(json, "barometer", reading->barometer);
  return json;
}

}  // namespace

Result<TestQuestion> read_pressure_test(const Object& request, units::System system) {
  TestQuestion question;
  const Result<bool> found = read_found(request, question.pipe);
  if (!found) return std::unexpected(found.error());
  if (request.has("volume") || request.has("volume_m3") || request.has("bore") ||
      request.has("bore_m")) {
    BELLHOLE_TRY(volume, read_volume(request));
    question.volume = volume;
  }
  BELLHOLE_TRY(mop,
               request.need<kinds::GaugePressure>(
                   "mop", "give the maximum operating pressure after the repair: --mop 60psi"));
  BELLHOLE_TRY(ends, read_ends(request));
  BELLHOLE_TRY(parts, read_parts(request));
  BELLHOLE_TRY(pretested, read_pretested(request));
  BELLHOLE_TRY(tie_ins, read_tie_ins(request));
  BELLHOLE_TRY(line, request.quantity<kinds::GaugePressure>("line_pressure"));
  BELLHOLE_TRY(start, read_reading(request, "start"));
  BELLHOLE_TRY(end, read_reading(request, "end"));
  BELLHOLE_TRY(duration, request.quantity<kinds::Duration>("duration"));
  BELLHOLE_TRY(loaded, request.quantity<kinds::Duration>("loaded_before"));
  BELLHOLE_TRY(step, request.quantity<kinds::PressureDifference>("gauge_step"));
  BELLHOLE_TRY(warmth, request.quantity<kinds::TemperatureDifference>("temperature_step"));
  BELLHOLE_TRY(leak, request.quantity<kinds::StdFlow>("leak"));
  BELLHOLE_TRY(barometer, read_barometer(request));
  BELLHOLE_TRY(base, read_base(request, system));
  question.mop = mop;
  question.ends = ends;
  question.parts = parts;
  question.pretested = pretested;
  question.tie_ins = tie_ins;
  question.line_pressure = line;
  question.start = start;
  question.end = end;
  question.duration = duration;
  question.loaded_before = loaded;
  question.gauge_step = step;
  question.temperature_step = warmth;
  question.leak = leak;
  question.barometer = barometer;
  question.base = base;
  return question;
}

Json pressure_test_json(const restore::Tested& tested, const TestQuestion& question,
                        const procedure::Profile& profile, units::System system) {
  Json json;
  json["question"] = "pressure-test";
  json["units"] = word_of(system);
  json["profile"] = {{"id", profile.id()}, {"title", profile.title()}};
  json["pipe"] = {
      {"size", question.pipe.size.name},
      {"ratio", question.pipe.ratio ? Json(*question.pipe.ratio) : Json(nullptr)},
      {"material", question.pipe.material ? Json(question.pipe.material->name) : Json(nullptr)}};
  json["ends"] = Json::array();
  for (const End end : question.ends)
    json["ends"].push_back(end_words[static_cast<std::size_t>(end)]);
  json["pretested"] = Json::array();
  for (const restore::Pretested& pipe : question.pretested) {
    Json one{{"id", pipe.id}};
    put(one, "pressure", pipe.pressure);
    put(one, "duration", pipe.duration);
    json["pretested"].push_back(one);
  }
  json["tie_ins"] = Json::array();
  for (const restore::TieIn& joint : question.tie_ins) {
    Json one{{"id", joint.id}, {"shows", soap_words[static_cast<std::size_t>(joint.shows)]}};
    put(one, "pressure", joint.pressure);
    json["tie_ins"].push_back(one);
  }
  put(json, "line_pressure", question.line_pressure);
  put(json, "mop", question.mop);
  put(json, "volume", question.volume);
  put(json, "barometer", question.barometer);
  json["base"] = base_json(question.base);
  json["start"] = reading_json(question.start);
  json["end"] = reading_json(question.end);
  put(json, "duration", question.duration);
  put(json, "least", tested.least);
  json["least_by"] = tested.least_by;
  put(json, "most", tested.most);
  json["most_by"] = tested.most_by;
  put(json, "fill", tested.fill);
  put(json, "expected_end", tested.expected_end);
  json["creep_pa_diff"] = band(tested.creep);
  json["dilation_pa_diff"] = band(tested.dilation);
  put(json, "reading_error", tested.reading_error);
  put(json, "missing", tested.missing_pressure);
  put(json, "missing", tested.missing);
  put(json, "missing", tested.missing_rate);
  put(json, "gauge_leak", tested.gauge_leak);
  put(json, "smallest_leak", tested.smallest_leak);
  json["smallest_by"] = tested.smallest_by;
  put(json, "keep_off", tested.keep_off);
  put(json, "duration_needed", tested.duration_needed);
  json["energy_j"] = tested.energy_j ? number_or_null(*tested.energy_j) : Json(nullptr);
  json["judgement"] = tested.judgement
                          ? Json(judgement_words[static_cast<std::size_t>(*tested.judgement)])
                          : Json(nullptr);
  json["says"] = tested.says;
  json["cautions"] = tested.cautions;
  return json;
}

}  // namespace bellhole::wire
