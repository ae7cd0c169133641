#include "wire/escape.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "units/parse.hpp"
#include "wire/closed.hpp"

namespace bellhole::wire {
namespace {

constexpr double k_otherwise = 1.30, z_otherwise = 1.0;
constexpr auto smooth = Length::from_si(1.5e-6);  // drawn plastic: Moody 1944, Crane TP-410

void assume(const Object& request, std::string says) {
  if (request.assumed() != nullptr) request.assumed()->push_back(std::move(says));
}

std::unexpected<Trouble> beyond(const Object& request, std::string_view key, double value,
                                std::string_view fix) {
  return trouble(Code::out_of_range, request.at(key), fmt::format("{:g}", value), std::string(fix));
}

/// "cd": a number, or text "0.62" or "0.62:0.85".
Result<std::optional<std::pair<double, double>>> read_coefficient(const Object& request) {
  using Pair = std::optional<std::pair<double, double>>;
  const auto found = request.json().find("cd");
  request.know("cd");
  if (found == request.json().end() || found->is_null()) return Pair();
  Pair pair;
  if (found->is_number()) {
    pair = std::pair(found->get<double>(), found->get<double>());
  } else {
    BELLHOLE_TRY(text, request.text("cd"));
    const auto colon = text->find(':');
    BELLHOLE_TRY(low, units::parse_number(text->substr(0, colon), request.at("cd")));
    pair = std::pair(low, low);
    if (colon != std::string::npos) {
      BELLHOLE_TRY(high, units::parse_number(text->substr(colon + 1), request.at("cd")));
      pair->second = high;
    }
  }
  if (!(pair->first > 0.0) || !(pair->second <= 1.0) || pair->first > pair->second) {
    return trouble(Code::out_of_range, request.at("cd"), found->dump(),
                   "a discharge coefficient is over 0 and at most 1, the lower one first");
  }
  return pair;
}

Result<bool> read_opening(const Object& request, Blow& blow) {
  BELLHOLE_TRY(hole, request.quantity<kinds::Length>("hole"));
  BELLHOLE_TRY(area, request.quantity<kinds::Area>("hole_area"));
  BELLHOLE_TRY(full, request.flag("full_bore"));
  const int given = (hole ? 1 : 0) + (area ? 1 : 0) + (full.value_or(false) ? 1 : 0);
  if (given > 1) {
    return trouble(Code::contradiction, request.at("hole"), "given more than once",
                   "give the hole's diameter, its area, or the full bore: one of them");
  }
  if (given == 0) {
    return trouble(Code::missing_value, request.at("hole"), "",
                   "say what gas escapes through: --hole 40mm (round), --hole-area 8in2, or "
                   "--full-bore");
  }
  if (hole && !(hole->si() > 0.0))
    return beyond(request, "hole", hole->si(), "give the diameter of the hole");
  if (area && !(area->si() > 0.0))
    return beyond(request, "hole_area", area->si(), "give the area of the hole");
  blow.diameter = hole;
  blow.area = hole ? std::optional(gas::round_hole(*hole)) : area;
  return true;
}

/// A feeding main typed as "BORE LENGTH" or "BORE LENGTH PRESSURE": "1.943in 500ft 60psi".
Result<gas::OpenLength> read_main(const std::string& text, const EscapeQuestion& question,
                                  const std::string& where) {
  const auto first = text.find(' ');
  const auto second = first == std::string::npos ? first : text.find(' ', first + 1);
  if (first == std::string::npos) {
    return trouble(
        Code::unreadable_value, where, text,
        "write bore and length, with the pressure where it differs: 1.943in 500ft 60psi");
  }
  BELLHOLE_TRY(bore, units::parse<kinds::Length>(text.substr(0, first), where));
  BELLHOLE_TRY(length,
               units::parse<kinds::Length>(text.substr(first + 1, second - first - 1), where));
  GaugePressure pressure = question.pressure;
  if (second != std::string::npos) {
    BELLHOLE_TRY(read, units::parse<kinds::GaugePressure>(text.substr(second + 1), where));
    pressure = read.value;
  }
  constexpr double narrowest_m = 1e-3, widest_m = 2.0, longest_m = 1e6;  // what a main can be
  if (!(bore.value.si() >= narrowest_m && bore.value.si() <= widest_m) ||
      !(length.value.si() > 0.0 && length.value.si() <= longest_m) || pressure.si() < 0.0) {
    return trouble(Code::out_of_range, where, text, "no main can be that");
  }
  return gas::OpenLength{absolute(pressure, question.barometer), length.value, bore.value, smooth};
}

Result<bool> read_mains(const Object& request, EscapeQuestion& question) {
  BELLHOLE_TRY(texts, request.texts("mains"));
  for (std::size_t i = 0; i < texts.size(); ++i) {
    BELLHOLE_TRY(side, read_main(texts[i], question, fmt::format("main {}", i + 1)));
    question.mains.push_back(side);
  }
  const bool full = !question.blow.area;
  if (full && question.mains.empty()) {
    return trouble(
        Code::missing_value, request.at("mains"), "",
        "a full bore passes what its main brings: give bore and length back to where the "
        "pressure is held, --main \"1.943in 500ft\", again for the other end");
  }
  for (const auto& side : question.mains) {
    if (question.blow.area && question.blow.area->si() > gas::round_hole(side.bore).si()) {
      return trouble(Code::contradiction, request.at("hole"),
                     fmt::format("{:g} m2", question.blow.area->si()),
                     "the hole is wider than the main: give --full-bore");
    }
  }
  if (!question.mains.empty())
    assume(request, "inside of the mains smooth, 0.0015 mm (plastic pipe)");
  return true;
}

Result<bool> read_state(const Object& request, units::System system, EscapeQuestion& question) {
  BELLHOLE_TRY(pressure, request.need<kinds::GaugePressure>(
                             "pressure", "give the pressure in the main: --pressure 60psi"));
  if (pressure.si() < 0.0)
    return beyond(request, "pressure", pressure.si(), "a gas main is not below the air's pressure");
  BELLHOLE_TRY(base, read_base(request, system));
  BELLHOLE_TRY(barometer, read_barometer(request));
  BELLHOLE_TRY(temperature, read_gas_temperature(request, base));
  BELLHOLE_TRY(gas, read_gas(request));
  BELLHOLE_TRY(z, request.number("z"));
  constexpr double least_z = 0.8, most_z = 1.1;  // any gas in a distribution main
  if (z && !(*z >= least_z && *z <= most_z))
    return beyond(request, "z", *z, "give the compressibility of the gas, near 1");
  question.pressure = pressure;
  question.base = base;
  question.barometer = barometer;
  question.temperature = temperature;
  question.gas = gas;
  question.z = z.value_or(z_otherwise);
  if (z && request.has("mains")) {
    return trouble(Code::contradiction, request.at("z"), fmt::format("{:g}", *z),
                   "along mains Z follows from gravity and pressure: leave it out");
  }
  return true;
}

}  // namespace

Result<Blow> read_blow(const Object& request) {
  Blow blow;
  BELLHOLE_TRY(opening, read_opening(request, blow));
  static_cast<void>(opening);
  BELLHOLE_TRY(coefficient, read_coefficient(request));
  BELLHOLE_TRY(k, request.number("k"));
  BELLHOLE_TRY(duration, request.quantity<kinds::Duration>("duration"));
  constexpr double least_k = 1.05, most_k = 1.67;  // from heavy vapours to monatomic gas
  if (k && !(*k >= least_k && *k <= most_k))
    return beyond(request, "k", *k, "the isentropic exponent of a gas is between 1.05 and 1.67");
  if (duration && !(duration->si() > 0.0))
    return beyond(request, "duration", duration->si(), "give how long it blows");
  if (coefficient && !blow.area) {
    return trouble(Code::contradiction, request.at("cd"), "given with full_bore",
                   "a full bore has no discharge coefficient: leave it out");
  }
  if (!k && blow.area) assume(request, "isentropic exponent k 1.30, since none was given");
  blow.coefficient = coefficient;
  blow.k = k.value_or(k_otherwise);
  blow.duration = duration;
  return blow;
}

Result<EscapeQuestion> read_escape(const Object& request, units::System system) {
  EscapeQuestion question;
  BELLHOLE_TRY(blow, read_blow(request));
  question.blow = blow;
  BELLHOLE_TRY(state, read_state(request, system, question));
  static_cast<void>(state);
  BELLHOLE_TRY(mains, read_mains(request, question));
  static_cast<void>(mains);
  if (question.mains.empty()) {
    if (!request.has("z")) assume(request, "compressibility Z 1, since none was given");
    assume(request,
           "the pressure stays as it is at the hole: what the mains can bring is not counted, so "
           "this is the most");
  } else {
    assume(request, "the pressure stays as it is where each main begins, as long as it blows");
  }
  return question;
}

Json escape_end_json(const EscapeEnd& end, const Blow& blow, const gas::Gas& gas,
                     const gas::Base& base, AbsolutePressure barometer) {
  const MassFlow flow = end.escape.flow;
  const Density density = gas::base_density(gas, base);
  Json json;
  json["cd"] = end.coefficient ? Json(*end.coefficient) : Json(nullptr);
  json["regime"] = gas::name(end.escape.regime);
  put(json, "at_the_opening", gauge(end.escape.at, barometer));
  json["kg_per_s"] = flow.si();
  json["std_m3_per_s"] = flow.si() / density.si();
  json["unlimited_kg_per_s"] = end.escape.unlimited.si();
  const auto lasting = [&](double per_second) {
    return blow.duration ? number_or_null(per_second * blow.duration->si()) : Json(nullptr);
  };
  json["kg"] = lasting(flow.si());
  json["std_m3"] = lasting(flow.si() / density.si());
  Json sides = Json::array();
  for (const auto& side : end.escape.sides) {
    sides.push_back({{"kg_per_s", side.flow.si()}, {"choked", side.choked}});
  }
  json["sides"] = sides;
  return json;
}

}  // namespace bellhole::wire
