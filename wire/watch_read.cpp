#include <fmt/format.h>

#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "units/parse.hpp"
#include "wire/closed.hpp"
#include "wire/text_table.hpp"
#include "wire/watch.hpp"

namespace bellhole::wire {
namespace {

using linepack::Asks;
using linepack::Drift;
using linepack::Reading;
using linepack::WatchQuestion;

constexpr std::array<std::string_view, 3> asks_words{"fed_elsewhere", "shut_off_tight",
                                                     "all_meters_shut"};

std::unexpected<Trouble> negative(const Object& request, std::string_view key) {
  return trouble(Code::out_of_range, request.at(key), "less than nought",
                 "give how much it may change, either way, as a plain amount");
}

/// "2degF/h" apart: the amount and the seconds that it takes; no seconds for a plain amount.
struct Change {
  std::string amount;
  std::optional<double> seconds;
};
Result<Change> change_of(const std::string& text, std::string_view where) {
  const auto slash = text.find('/');
  if (slash == std::string::npos) return Change{text, std::nullopt};
  BELLHOLE_TRY(time, units::parse<kinds::Duration>("1 " + text.substr(slash + 1), where));
  return Change{text.substr(0, slash), time.value.si()};
}

/// The same drift in SI: an amount or a rate.
Result<bool> drift_si(const Object& request, std::string_view key, std::string_view amount,
                      std::string_view rate, std::optional<double>& amount_si,
                      std::optional<double>& rate_si) {
  const std::string amount_key = std::string(key) + std::string(amount);
  const std::string rate_key = std::string(key) + std::string(rate);
  BELLHOLE_TRY(value, request.number(amount_key));
  BELLHOLE_TRY(per_second, request.number(rate_key));
  if ((value || per_second) && request.has(key)) {
    return trouble(Code::contradiction, request.at(key), "given twice",
                   fmt::format("give {} or {}, not both", key, value ? amount_key : rate_key));
  }
  if (value) amount_si = value;
  if (per_second) rate_si = per_second;
  if (value.value_or(0.0) < 0.0 || per_second.value_or(0.0) < 0.0) return negative(request, key);
  return true;
}

template <class Kind>
Result<bool> drift_typed(const Object& request, std::string_view key,
                         std::optional<double>& amount_si, std::optional<double>& rate_si) {
  BELLHOLE_TRY(typed, request.text(key));
  if (!typed) return true;
  BELLHOLE_TRY(change, change_of(*typed, request.at(key)));
  BELLHOLE_TRY(amount, units::parse<Kind>(change.amount, request.at(key)));
  if (amount.value.si() < 0.0) return negative(request, key);
  if (change.seconds) {
    rate_si = amount.value.si() / *change.seconds;
  } else {
    amount_si = amount.value.si();
  }
  return true;
}

Result<Drift> read_drift(const Object& request) {
  std::optional<double> barometer, barometer_rate, temperature, temperature_rate;
  for (const auto& done :
       {drift_si(request, "barometer_drift", "_pa_diff", "_pa_per_s", barometer, barometer_rate),
        drift_si(request, "temperature_drift", "_k_diff", "_k_per_s", temperature,
                 temperature_rate),
        drift_typed<kinds::PressureDifference>(request, "barometer_drift", barometer,
                                               barometer_rate),
        drift_typed<kinds::TemperatureDifference>(request, "temperature_drift", temperature,
                                                  temperature_rate)}) {
    if (!done) return std::unexpected(done.error());
  }
  Drift drift;
  if (barometer) drift.barometer = PressureDifference::from_si(*barometer);
  if (barometer_rate) drift.barometer_rate = PressureRate::from_si(*barometer_rate);
  if (temperature) drift.temperature = TemperatureDifference::from_si(*temperature);
  drift.temperature_k_per_s = temperature_rate;
  return drift;
}

/// A reading typed as one text: "12:00 58.0psi", "2026-11-25 12:00 58 psi".
Result<Reading> typed_reading(const std::string& text, const std::string& where, Moments& moments,
                              OneUnit& unit) {
  auto blank = text.find(' ');
  const bool date = blank == 10 && text[4] == '-';
  if (date) blank = text.find(' ', blank + 1);
  if (blank == std::string::npos) {
    return trouble(Code::unreadable_value, where, text,
                   "write the time, a blank and what the gauge reads: 12:00 58.0psi");
  }
  BELLHOLE_TRY(at, moments.read(text.substr(0, blank), "", where));
  const std::string value = text.substr(blank + 1);
  BELLHOLE_TRY(pressure, units::parse<kinds::GaugePressure>(value, where));
  BELLHOLE_TRY(same, unit.hold(value, where));
  static_cast<void>(same);
  return Reading{at, pressure.value};
}

Result<std::vector<Reading>> table_readings(const std::string& text) {
  BELLHOLE_TRY(table, read_table(text, "readings",
                                 {{{"time", "at", "clock", "t"}},
                                  {{"pressure", "gauge", "reading", "gauge pressure"}}}));
  std::vector<Reading> readings;
  Moments moments;
  OneUnit unit;
  for (const TextRow& row : table.rows) {
    BELLHOLE_TRY(at, moments.read(*row.cells[0], table.units[0], row.where));
    BELLHOLE_TRY(pressure,
                 read_cell<kinds::GaugePressure>(*row.cells[1], table.units[1], row.where));
    BELLHOLE_TRY(same, unit.hold(*row.cells[1], row.where));
    static_cast<void>(same);
    readings.push_back({at, pressure});
  }
  return readings;
}

Result<std::vector<Reading>> read_readings(const Object& request) {
  BELLHOLE_TRY(table, request.text("readings_table"));
  std::vector<Reading> readings;
  Moments moments;
  OneUnit unit;
  const auto found = request.json().find("readings");
  if (found != request.json().end() && found->is_array() && !found->empty() &&
      found->front().is_object()) {
    BELLHOLE_TRY(list, request.objects("readings"));
    for (const Object& item : list) {
      BELLHOLE_TRY(at, item.need<kinds::Duration>("at", "say when it was read"));
      BELLHOLE_TRY(pressure, item.need<kinds::GaugePressure>("pressure", "say what it reads"));
      BELLHOLE_TRY(done, item.done());
      static_cast<void>(done);
      readings.push_back({at, pressure});
    }
  } else {
    BELLHOLE_TRY(texts, request.texts("readings"));
    for (std::size_t i = 0; i < texts.size(); ++i) {
      BELLHOLE_TRY(reading,
                   typed_reading(texts[i], fmt::format("reading {}", i + 1), moments, unit));
      readings.push_back(reading);
    }
  }
  if (table && !readings.empty()) {
    return trouble(Code::contradiction, request.at("readings_table"), "given beside readings",
                   "give the readings typed or as a table, not both");
  }
  return table ? table_readings(*table) : readings;
}

Result<bool> read_gauge(const Object& request, linepack::Gauge& gauge) {
  BELLHOLE_TRY(step, request.need<kinds::PressureDifference>(
                         "gauge_step", "give the smallest division that is read: --gauge-step"));
  BELLHOLE_TRY(steps, request.whole("steps"));
  BELLHOLE_TRY(range, request.range<kinds::GaugePressure>("gauge_range"));
  if (steps && (*steps < 1 || *steps > 1000)) {
    return trouble(Code::out_of_range, request.at("steps"), fmt::format("{}", *steps),
                   "the needle must move by at least one step to be seen");
  }
  gauge.step = step;
  gauge.steps_given = steps.has_value();
  if (steps) gauge.steps = static_cast<int>(*steps);
  gauge.range = range;
  if (!steps && request.assumed() != nullptr)
    request.assumed()->emplace_back(
        "two gauge steps must show, since no number of steps was given: one is within the error of "
        "reading");
  return true;
}

/// The pressure at the start: given, the first reading, or nought in a vented section.
Result<GaugePressure> read_start(const Object& request, const WatchQuestion& question) {
  BELLHOLE_TRY(pressure, request.quantity<kinds::GaugePressure>("pressure"));
  if (pressure && !question.readings.empty()) {
    const double apart = std::abs((question.readings.front().pressure - *pressure).si());
    if (apart > question.gauge.step.si() * 1.000001) {
      return trouble(
          Code::contradiction, request.at("pressure"),
          fmt::format("{:g} Pa (gauge)", pressure->si()),
          "the first reading is more than a gauge step apart from it: correct one of the "
          "two, or leave the pressure out");
    }
  }
  if (!question.readings.empty()) return question.readings.front().pressure;
  if (pressure) return *pressure;
  if (question.asks == Asks::shut_off_tight) {
    if (request.assumed() != nullptr)
      request.assumed()->emplace_back("pressure nought: the section was vented");
    return GaugePressure();
  }
  return trouble(Code::missing_value, request.at("pressure"), "",
                 "give what the gauge reads at the start: --pressure");
}

}  // namespace

Result<WatchQuestion> read_watch(const Object& request, units::System system) {
  WatchQuestion question;
  BELLHOLE_TRY(asks, request.need_text("asks",
                                       "name the question: fed_elsewhere, shut_off_tight or "
                                       "all_meters_shut"));
  BELLHOLE_TRY(which, one_of(asks, {asks_words[0], asks_words[1], asks_words[2]}, "asks"));
  question.asks = static_cast<Asks>(which);
  BELLHOLE_TRY(closed, read_closed(request, system));
  BELLHOLE_TRY(draw, request.range<kinds::StdFlow>("draw"));
  BELLHOLE_TRY(let_by, request.quantity<kinds::StdFlow>("let_by"));
  BELLHOLE_TRY(gauge, read_gauge(request, question.gauge));
  static_cast<void>(gauge);
  BELLHOLE_TRY(drift, read_drift(request));
  BELLHOLE_TRY(floor, request.quantity<kinds::GaugePressure>("floor"));
  BELLHOLE_TRY(within, request.quantity<kinds::Duration>("within"));
  BELLHOLE_TRY(readings, read_readings(request));
  question.closed = closed;
  if (draw) question.draw = linepack::Draw{draw->first, draw->second};
  if (let_by && question.asks != Asks::shut_off_tight) {
    return trouble(Code::contradiction, request.at("let_by"), asks,
                   "let-by is asked about with shut_off_tight only");
  }
  question.let_by = let_by;
  question.drift = drift;
  question.floor = floor;
  question.within = within;
  question.readings = readings;
  BELLHOLE_TRY(pressure, read_start(request, question));
  question.pressure = pressure;
  return question;
}

}  // namespace bellhole::wire
