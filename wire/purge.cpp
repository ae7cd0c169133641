#include "wire/purge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <nlohmann/json.hpp>

#include "units/parse.hpp"
#include "wire/closed.hpp"

namespace bellhole::wire {
namespace {

using restore::PurgeQuestion;
using restore::VentReading;

constexpr std::array instrument_words{"not_told", "catalytic", "thermal_conductivity", "infrared"};

/// The smoothest and the usual wall of PE: drawn tubing, Moody 1944 (from memory).
constexpr auto roughness_otherwise = Length::from_si(1.5e-6);

/// "93%gas", "93 % gas", "40%LEL".
Result<VentReading> read_vent(const std::string& text, const std::string& where) {
  std::string tight;
  for (const char c : text)
    if (c != ' ') tight += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  const auto percent = tight.find('%');
  const std::string unit = percent == std::string::npos ? "" : tight.substr(percent + 1);
  if (unit != "gas" && unit != "lel")
    return trouble(Code::unreadable_value, where, text,
                   "write what the instrument reads and in what: 93%gas, 40%LEL");
  BELLHOLE_TRY(number, units::parse_number(tight.substr(0, percent), where));
  return VentReading{number / 100.0, unit == "lel"};
}

}  // namespace

Result<std::optional<restore::PurgeStack>> read_stack(const Object& request) {
  BELLHOLE_TRY(bore, request.quantity<kinds::Length>("stack_bore"));
  BELLHOLE_TRY(height, request.quantity<kinds::Length>("stack_height"));
  BELLHOLE_TRY(loss, request.number("stack_loss"));
  if (!bore && !height && !loss) return std::optional<restore::PurgeStack>();
  if (!bore || !height)
    return trouble(Code::missing_value, request.at(bore ? "stack_height" : "stack_bore"), "",
                   "give the stack's bore and the height of its mouth above the ground");
  restore::PurgeStack stack{*bore, *height};
  if (loss && !(*loss >= 0.0))
    return trouble(Code::out_of_range, request.at("stack_loss"), fmt::format("{:g}", *loss),
                   "a sum of loss coefficients is nought or more");
  if (loss) stack.loss = *loss;
  if (!loss && request.assumed() != nullptr)
    request.assumed()->push_back(fmt::format(
        "the stack's fittings lose {:g} velocity heads beside its friction", stack.loss));
  return std::optional(stack);
}

Result<PurgeQuestion> read_purge(const Object& request, units::System system) {
  PurgeQuestion question;
  BELLHOLE_TRY(bore,
               request.need<kinds::Length>("bore", "give the bore of the main: --bore 5.473in"));
  BELLHOLE_TRY(length, request.need<kinds::Length>("length", "give its length: --length 600ft"));
  BELLHOLE_TRY(speed, request.quantity<kinds::Speed>("speed"));
  BELLHOLE_TRY(roughness, request.quantity<kinds::Length>("roughness"));
  BELLHOLE_TRY(pack, request.quantity<kinds::GaugePressure>("pack_to"));
  BELLHOLE_TRY(texts, request.texts("readings"));
  for (const std::string& text : texts) {
    BELLHOLE_TRY(reading, read_vent(text, request.at("readings")));
    question.readings.push_back(reading);
  }
  BELLHOLE_TRY(instrument, request.text("instrument"));
  if (instrument) {
    BELLHOLE_TRY(which, one_of(*instrument, {"catalytic", "thermal_conductivity", "infrared"},
                               request.at("instrument")));
    question.instrument = static_cast<restore::Instrument>(which + 1);
  }
  BELLHOLE_TRY(stack, read_stack(request));
  BELLHOLE_TRY(line, request.quantity<kinds::GaugePressure>("line_pressure"));
  BELLHOLE_TRY(base, read_base(request, system));
  BELLHOLE_TRY(barometer, read_barometer(request));
  BELLHOLE_TRY(temperature, read_gas_temperature(request, base));
  BELLHOLE_TRY(gas, read_gas(request));
  if (!roughness && request.assumed() != nullptr)
    request.assumed()->emplace_back("roughness 0.0015 mm, as of plastic pipe");
  question.bore = bore;
  question.length = length;
  question.speed = speed;
  question.roughness = roughness.value_or(roughness_otherwise);
  question.pack_to = pack;
  question.stack = stack;
  question.line = line;
  question.base = base;
  question.barometer = barometer;
  question.temperature = temperature;
  question.gas = gas;
  return question;
}

Json stack_json(const std::optional<restore::PurgeStack>& stack) {
  if (!stack) return nullptr;
  Json json;
  put(json, "bore", stack->bore);
  put(json, "height", stack->height);
  json["loss"] = stack->loss;
  return json;
}

Json purge_json(const restore::Purged& purged, const PurgeQuestion& question,
                const procedure::Profile& profile, units::System system) {
  Json json;
  json["question"] = "purge";
  json["units"] = word_of(system);
  json["profile"] = {{"id", profile.id()}, {"title", profile.title()}};
  put(json, "bore", question.bore);
  put(json, "length", question.length);
  put(json, "barometer", question.barometer);
  put(json, "temperature", question.temperature);
  json["base"] = base_json(question.base);
  put(json, "speed", purged.speed);
  put(json, "least_speed", purged.least_speed);
  json["least_by"] = purged.least_by;
  json["flow_m3_per_s"] = number_or_null(purged.flow_m3_per_s);
  put(json, "volume", purged.volume);
  put(json, "time", purged.time);
  put(json, "time_planned", purged.time_planned);
  put(json, "gas_used", purged.gas_used);
  put(json, "gas_lost", purged.gas_lost);
  put(json, "mixing", purged.mixed.one_to_99());
  json["mixing_valid"] = {
      {"reynolds", number_or_null(purged.mixed.reynolds)},
      {"regime", purged.mixed.laminar ? "laminar" : "turbulent"},
      {"as_measured", purged.mixed.as_measured},
      {"says",
       "1 to 99 % gas; a passive front that fills the bore; measured from a Reynolds number "
       "of 20,000"}};
  put(json, "flammable", purged.mixed.flammable());
  put(json, "slug_least", purged.slug_least);
  put(json, "slug_gas", purged.slug_gas);
  json["slug_asked"] = purged.slug_asked;
  json["stack"] = stack_json(question.stack);
  put(json, "line", question.line);
  put(json, "foot", purged.foot);
  put(json, "inlet", purged.inlet);
  put(json, "pack_to", question.pack_to);
  put(json, "pack", purged.pack);
  json["instrument"] = instrument_words[static_cast<std::size_t>(question.instrument)];
  json["readings"] = Json::array();
  for (const VentReading& reading : question.readings)
    json["readings"].push_back(
        {{"share", number_or_null(reading.share)}, {"of", reading.of_lel ? "lel" : "gas"}});
  json["ended"] = purged.ended ? Json(*purged.ended) : Json(nullptr);
  json["says"] = purged.says;
  json["cautions"] = purged.cautions;
  return json;
}

}  // namespace bellhole::wire
