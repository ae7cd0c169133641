#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "procedure/date.hpp"
#include "units/parse.hpp"
#include "wire/squeeze.hpp"
#include "wire/tool.hpp"

namespace bellhole::wire {
namespace {

using squeeze::Feature;
using squeeze::Question;

/// One text, or a list of them.
Result<std::vector<std::string>> one_or_more(const Object& request, std::string_view key) {
  const auto found = request.json().find(std::string(key));
  if (found == request.json().end() || !found->is_string()) return request.texts(key);
  request.know(key);
  return std::vector<std::string>{found->get<std::string>()};
}

Result<std::optional<double>> read_ratio(const Object& request) {
  std::optional<double> ratio;
  for (const char* key : {"dr", "sdr"}) {
    std::optional<double> value;
    const auto found = request.json().find(key);
    if (found != request.json().end() && found->is_string()) {
      request.know(key);
      BELLHOLE_TRY(number, units::parse_number(found->get<std::string>(), request.at(key)));
      value = number;
    } else {
      BELLHOLE_TRY(number, request.number(key));
      value = number;
    }
    if (value && ratio)
      return trouble(Code::contradiction, request.at(key), fmt::format("{:g}", *value),
                     "give dr or sdr, not both");
    if (value) ratio = value;
  }
  return ratio;
}

Result<std::vector<Length>> read_walls(const Object& request) {
  std::vector<Length> walls;
  BELLHOLE_TRY(typed, one_or_more(request, "wall"));
  for (const std::string& text : typed) {
    BELLHOLE_TRY(read, units::parse<kinds::Length>(text, request.at("wall")));
    walls.push_back(read.value);
  }
  const auto found = request.json().find("wall_m");
  request.know("wall_m");
  if (found == request.json().end() || found->is_null()) return walls;
  if (!walls.empty())
    return trouble(Code::contradiction, request.at("wall_m"), found->dump(),
                   "give wall or wall_m, not both");
  const Json list = found->is_array() ? *found : Json::array({*found});
  for (const Json& item : list) {
    if (!item.is_number())
      return trouble(Code::unreadable_document, request.at("wall_m"), item.dump(),
                     "give readings in metres, as numbers");
    walls.push_back(Length::from_si(item.get<double>()));
  }
  return walls;
}

Result<std::optional<procedure::Days>> read_made(const Object& request) {
  BELLHOLE_TRY(made, request.text("made"));
  std::optional<procedure::Days> days;
  if (made) {
    BELLHOLE_TRY(read, procedure::parse_date(*made, request.at("made")));
    days = read;
  }
  const auto found = request.json().find("year");
  std::optional<std::string> year;
  if (found != request.json().end() && found->is_number_integer()) {
    request.know("year");
    year = found->dump();
  } else {
    BELLHOLE_TRY(text, request.text("year"));
    year = text;
  }
  if (!year) return days;
  BELLHOLE_TRY(read, procedure::parse_date(*year, request.at("year")));
  if (days && (days->first < read.first || days->last > read.last)) {
    return trouble(Code::contradiction, request.at("year"), *year,
                   fmt::format("the pipe was made {}: give one of the two", *made));
  }
  return days ? days : std::optional(read);
}

Result<pipe::Told> read_told(const Object& request, std::string_view key) {
  BELLHOLE_TRY(text, request.text(key));
  if (!text) return pipe::Told::unknown;
  BELLHOLE_TRY(which, one_of(*text, {"no", "yes", "unknown"}, request.at(key)));
  return static_cast<pipe::Told>(which);
}

Result<bool> read_lining(const Object& request, pipe::Lining& lining) {
  BELLHOLE_TRY(inserted, read_told(request, "inserted"));
  BELLHOLE_TRY(cased, read_told(request, "cased"));
  BELLHOLE_TRY(layered, read_told(request, "layered"));
  BELLHOLE_TRY(lined, read_told(request, "lined"));
  lining = {inserted, cased, layered, lined};
  return true;
}

/// The unit as typed: "psi" of "400 psi".
std::string unit_typed(const Object& request, std::string_view key) {
  const auto found = request.json().find(std::string(key));
  if (found == request.json().end() || !found->is_string()) return {};
  const auto text = found->get<std::string>();
  const auto last_digit = text.find_last_of("0123456789.");
  const auto unit =
      text.find_first_not_of(' ', last_digit == std::string::npos ? 0 : last_digit + 1);
  return unit == std::string::npos ? std::string() : text.substr(unit);
}

Result<bool> read_conditions(const Object& request, squeeze::Found& found) {
  BELLHOLE_TRY(pressure, request.quantity<kinds::GaugePressure>("pressure"));
  BELLHOLE_TRY(maop, request.quantity<kinds::GaugePressure>("maop"));
  for (const auto& [key, value] : {std::pair("pressure", pressure), std::pair("maop", maop)}) {
    if (value && value->si() < 0.0) {
      return trouble(Code::out_of_range, request.at(key),
                     fmt::format("{:g} Pa (gauge)", value->si()),
                     "a gas main is not below the air's pressure: correct the value");
    }
  }
  BELLHOLE_TRY(temperature, request.quantity<kinds::Temperature>("pipe_temperature"));
  if (temperature && temperature->si() <= 0.0) {
    return trouble(Code::out_of_range, request.at("pipe_temperature"),
                   fmt::format("{:g} K", temperature->si()), "no temperature can be that");
  }
  BELLHOLE_TRY(strength, request.quantity<kinds::Stress>("hdb_140"));
  if (strength && !(strength->si() > 0.0)) {
    return trouble(Code::out_of_range, request.at("hdb_140"),
                   fmt::format("{:g} Pa", strength->si()),
                   "give the strength from the pipe's listing");
  }
  found.pressure = pressure;
  found.pressure_unit = unit_typed(request, "pressure");
  found.maop = maop;
  found.temperature = temperature;
  found.hdb_140 = strength;
  return true;
}

}  // namespace

Result<bool> read_pipe(const Object& request, squeeze::Found& found) {
  BELLHOLE_TRY(size_text, request.need_text("size", "say what pipe it is: IPS 8, CTS 1/2, dn 125"));
  BELLHOLE_TRY(size, pipe::read_size(size_text, request.at("size")));
  BELLHOLE_TRY(ratio, read_ratio(request));
  BELLHOLE_TRY(walls, read_walls(request));
  BELLHOLE_TRY(material, request.text("material"));
  if (material && *material != "unknown") {
    BELLHOLE_TRY(known, pipe::read_material(*material, request.at("material")));
    found.material = known;
  }
  found.size = size;
  found.ratio = ratio;
  found.readings = walls;
  return true;
}

Result<bool> read_found(const Object& request, squeeze::Found& found) {
  const Result<bool> pipe = read_pipe(request, found);
  if (!pipe) return pipe;
  BELLHOLE_TRY(made, read_made(request));
  found.made = made;
  const Result<bool> lining = read_lining(request, found.lining);
  if (!lining) return lining;
  return read_conditions(request, found);
}

namespace {

Result<Feature> read_feature(std::string_view text, std::string_view where) {
  const auto at = text.find('@');
  if (at == std::string_view::npos || at == 0 || at + 1 == text.size()) {
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   "write what it is and where: joint@8in, fitting@66in:78in");
  }
  BELLHOLE_TRY(range, units::parse_range<kinds::Length>(text.substr(at + 1), where));
  return Feature{std::string(text.substr(0, at)), range.low, range.high};
}

Result<std::vector<Feature>> read_features(const Object& request) {
  std::vector<Feature> features;
  const auto found = request.json().find("features");
  if (found != request.json().end() && found->is_array() && !found->empty() &&
      found->front().is_object()) {
    BELLHOLE_TRY(list, request.objects("features"));
    for (const Object& item : list) {
      BELLHOLE_TRY(kind, item.need_text("kind", "say what it is: joint, fitting, squeeze"));
      BELLHOLE_TRY(at, item.range<kinds::Length>("at"));
      if (!at)
        return trouble(Code::missing_value, item.at("at"), kind,
                       "say where it is: \"at\": \"8in\" or \"at_m\": [0.2, 0.2]");
      const Result<bool> done = item.done();
      if (!done) return std::unexpected(done.error());
      features.push_back({kind, at->first, at->second});
    }
    return features;
  }
  BELLHOLE_TRY(texts, one_or_more(request, "features"));
  for (const std::string& text : texts) {
    BELLHOLE_TRY(feature, read_feature(text, request.at("features")));
    features.push_back(feature);
  }
  return features;
}

Result<bool> read_hole(const Object& request, Question& question) {
  BELLHOLE_TRY(exposed, request.range<kinds::Length>("exposed"));
  if (exposed && !(exposed->first < exposed->second)) {
    return trouble(Code::out_of_range, request.at("exposed"),
                   fmt::format("{:g} m", exposed->second.si()),
                   "give both ends of the exposed length: 0in:84in");
  }
  BELLHOLE_TRY(features, read_features(request));
  BELLHOLE_TRY(half_width, request.quantity<kinds::Length>("tool_half_width"));
  if (half_width && half_width->si() < 0.0) {
    return trouble(Code::out_of_range, request.at("tool_half_width"),
                   fmt::format("{:g} m", half_width->si()),
                   "give the distance from the bars' centreline to the tool's edge");
  }
  question.exposed = exposed;
  question.features = features;
  question.half_width = half_width;
  return true;
}

}  // namespace

Result<Question> read_squeeze(const Object& request) {
  Question question;
  const Result<bool> found = read_found(request, question.pipe);
  if (!found) return std::unexpected(found.error());
  const Result<bool> hole = read_hole(request, question);
  if (!hole) return std::unexpected(hole.error());
  BELLHOLE_TRY(two, request.flag("double"));
  BELLHOLE_TRY(every, request.quantity<kinds::Length>("every"));
  question.two = two.value_or(false);
  question.mark_every = every;
  BELLHOLE_TRY(stops, one_or_more(request, "stop"));
  for (const std::string& text : stops) {
    BELLHOLE_TRY(stop, read_stop_text(text, request.at("stop")));
    if (!question.stops) question.stops.emplace();
    question.stops->push_back(stop);
  }
  return question;
}

Result<units::System> read_units(const Object& request, const Question& question) {
  BELLHOLE_TRY(text, request.text("units"));
  if (text) {
    BELLHOLE_TRY(which, one_of(*text, {"us", "metric"}, request.at("units")));
    return which == 0 ? units::System::us : units::System::metric;
  }
  return question.pipe.size.system == pipe::System::iso ? units::System::metric : units::System::us;
}

}  // namespace bellhole::wire
