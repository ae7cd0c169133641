#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "wire/rehearse.hpp"

namespace bellhole::wire {
namespace {

using plan::Rehearsal;
using plan::RehearseQuestion;
using units::Toward;

constexpr std::array draw_words{"low", "expected", "high"};
constexpr std::array wrong_words{"customer_short", "over_maop", "gauge_low", "gauge_high"};
/// What a line between two samples that are written may miss: a thousandth of what the gauge
/// spans. It is a picture's accuracy, no limit.
constexpr double picture_share = 1e-3;

class Writing {
 public:
  Writing(const RehearseQuestion& question, const Rehearsal& made)
      : question_(question),
        script_(question.script),
        network_(question.model.network()),
        made_(made) {}

  Json go() const {
    Json json;
    json["clock"] = clock_json();
    json["steps"] = steps_json();
    json["gauges"] = gauges_json();
    json["wrong"] = wrong_json();
    json["ways_back"] = ways_json();
    json["customers_out"] = {{"planned", script_.out.size()}, {"fall_short", made_.out_as_planned}};
    put_moment(json["customers_out"], "first", made_.first_out);
    json["says"] = says();
    return json;
  }

 private:
  std::string clock(Duration moment) const {
    return plan::clock_words(moment, question_.begins.hour);
  }
  /// "shut_s" and "shut_clock".
  void put_moment(Json& json, const std::string& key, std::optional<Duration> moment) const {
    put(json, key, moment);
    json[key + "_clock"] = moment ? Json(clock(*moment)) : Json(nullptr);
  }
  Json step_id(const std::optional<std::size_t>& step) const {
    return step ? Json(script_.steps[*step].id) : Json(nullptr);
  }
  std::optional<Duration> moment_of(const std::vector<std::size_t>& steps, bool first) const {
    if (steps.empty()) return std::nullopt;
    return first ? made_.clock.steps[steps.front()].begins : made_.clock.steps[steps.back()].ends;
  }

  Json clock_json() const {
    Json json;
    json["starts"] = clock(Duration{});
    put_moment(json, "first_moves", moment_of(made_.clock.closing, true));
    put_moment(json, "all_shut", moment_of(made_.clock.closing, false));
    put_moment(json, "all_open", moment_of(made_.clock.opening, false));
    put_moment(json, "ends", made_.clock.ends());
    put(json, "lasts", made_.lasts);
    return json;
  }

  Json steps_json() const {
    Json list = Json::array();
    for (std::size_t i = 0; i < script_.steps.size(); ++i) {
      const plan::Step& step = script_.steps[i];
      Json json;
      json["id"] = step.id;
      json["kind"] = plan::to_string(step.kind);
      json["does"] = step.does;
      json["about"] = step.about.empty() ? Json(nullptr) : Json(step.about);
      put_moment(json, "begins", made_.clock.steps[i].begins);
      put_moment(json, "ends", made_.clock.steps[i].ends);
      json["time_known"] = made_.clock.steps[i].known;
      json["hold_point"] = step.hold_point;
      json["point_of_no_return"] = step.point_of_no_return;
      json["gauges"] = step_gauges(i);
      list.push_back(json);
    }
    return list;
  }
  Json step_gauges(std::size_t step) const {
    Json list = Json::array();
    for (std::size_t g = 0; g < script_.steps[step].gauges.size(); ++g) {
      const plan::Gauge& gauge = script_.steps[step].gauges[g];
      const plan::Expected& expected = made_.expected[step][g];
      Json json;
      json["point"] = gauge.point;
      json["at"] = gauge.at;
      put(json, "expect", expected.at_end);
      put(json, "expect_least", expected.least);
      put(json, "expect_most", expected.most);
      put(json, "low", gauge.low);
      put(json, "high", gauge.high);
      list.push_back(json);
    }
    return list;
  }

  /// Of the samples that are kept, those that are read one after the other.
  Json stretches(const plan::Series& series, const std::vector<std::size_t>& kept) const {
    Json list = Json::array();
    bool read = false;
    for (const std::size_t i : kept) {
      const bool now = std::isfinite(series.expected[i]);
      if (now && !read)
        list.push_back({{"at_s", Json::array()},
                        {"low_draw_pa_gauge", Json::array()},
                        {"expected_draw_pa_gauge", Json::array()},
                        {"high_draw_pa_gauge", Json::array()}});
      read = now;
      if (!read) continue;
      Json& stretch = list.back();
      stretch["at_s"].push_back(made_.times[i].si());
      stretch["low_draw_pa_gauge"].push_back(series.low_draw[i]);
      stretch["expected_draw_pa_gauge"].push_back(series.expected[i]);
      stretch["high_draw_pa_gauge"].push_back(series.high_draw[i]);
    }
    return list;
  }
  Json gauges_json() const {
    Json list = Json::array();
    for (const plan::Series& series : made_.series) {
      const plan::GaugePoint& point = script_.points[series.point];
      const std::vector<const std::vector<double>*> curves{&series.low_draw, &series.expected,
                                                           &series.high_draw};
      const auto kept = plan::thinned(made_.times, curves, picture_share * span(curves));
      Json json;
      json["id"] = point.id;
      json["at"] = point.at;
      json["post"] = point.post.empty() ? Json(nullptr) : Json(point.post);
      json["tier"] = point.tier == network::none
                         ? Json(nullptr)
                         : Json(network_.tiers.id[static_cast<std::size_t>(point.tier)]);
      json["stretches"] = stretches(series, kept);
      list.push_back(json);
    }
    return list;
  }
  static double span(const std::vector<const std::vector<double>*>& curves) {
    double most = 0.0;
    for (const auto* curve : curves)
      for (const double pressure : *curve)
        if (std::isfinite(pressure)) most = std::max(most, std::abs(pressure));
    return most;
  }

  Json wrong_json() const {
    Json list = Json::array();
    for (const plan::Wrong& wrong : made_.wrong) {
      const auto id = [](const std::vector<std::string>& ids, network::Index index) {
        return index == network::none ? Json(nullptr) : Json(ids[static_cast<std::size_t>(index)]);
      };
      Json json;
      json["kind"] = wrong_words[static_cast<std::size_t>(wrong.kind)];
      put_moment(json, "at", wrong.at);
      json["step"] = step_id(wrong.step);
      json["draw"] = draw_words[static_cast<std::size_t>(wrong.draw)];
      json["customer"] = id(network_.customers.id, wrong.customer);
      json["node"] = id(network_.nodes.id, wrong.node);
      json["gauge"] = wrong.point ? Json(script_.points[*wrong.point].id) : Json(nullptr);
      put(json, "pressure", wrong.pressure);
      put(json, "limit", wrong.limit);
      json["at_once"] = wrong.at_once;
      list.push_back(json);
    }
    return list;
  }

  Json ways_json() const {
    Json list = Json::array();
    for (const plan::WayBackOnClock& way : made_.ways) {
      Json json;
      json["step"] = script_.steps[way.step].id;
      json["shutoff"] = script_.shutoffs[way.shutoff].letter;
      put_moment(json, "shut", way.shut);
      put(json, "undo", way.undo);
      put_moment(json, "short", way.short_at);
      put_moment(json, "latest_undo", way.latest);
      json["customer"] = way.customer == network::none
                             ? Json(nullptr)
                             : Json(network_.customers.id[static_cast<std::size_t>(way.customer)]);
      put(json, "looked", question_.looks_ahead);
      json["no_return"] = way.no_return;
      list.push_back(json);
    }
    return list;
  }

  std::string says() const {
    const auto shut = moment_of(made_.clock.closing, false);
    const std::string all = shut ? fmt::format("shut at {}", clock(*shut)) : "nothing is shut";
    if (made_.wrong.empty())
      return fmt::format("{}; nothing goes wrong until {} at the draws looked at", all,
                         clock(made_.lasts));
    return fmt::format("{}; something goes wrong at {}, first of {}", all,
                       clock(made_.wrong.front().at), made_.wrong.size());
  }

  const RehearseQuestion& question_;
  const plan::Script& script_;
  const network::Network& network_;
  const Rehearsal& made_;
};

}  // namespace

void put_rehearsal_conditions(Json& reply, const RehearseQuestion& question) {
  Json conditions;
  put(conditions, "temperature", question.begins.air);
  put(conditions, "ground_temperature", question.model.conditions().ground);
  put(conditions, "hour", question.begins.hour);
  Json course = Json::array();
  for (const network::Weather& weather : question.weather) {
    Json one;
    put(one, "at", weather.at);
    one["at_clock"] = plan::clock_words(weather.at, question.begins.hour);
    put(one, "temperature", weather.air);
    course.push_back(one);
  }
  conditions["course"] = course;
  conditions["procedure"] = question.profile.id();
  conditions["procedure_title"] = question.profile.title();
  reply["conditions"] = conditions;
}

Json lost_reply(const RehearseQuestion& question, const Rehearsal& made, bool goes_on) {
  if (!made.lost) return nullptr;
  const plan::Lost& lost = *made.lost;
  const network::Network& network = question.model.network();
  const Density density = gas::base_density(question.model.conditions().gas,
                                            {network.base_pressure, network.base_temperature});
  const auto gas = [&](double kg) { return StdVolume::from_si(kg / density.si()); };
  const double least = lost.least[lost.all_shut], most = lost.most[lost.all_shut];
  Json json;
  put(json, "kg", most);
  put(json, "kg_low", least);
  put(json, "gas", gas(most));
  put(json, "gas_low", gas(least));
  put(json, "until", made.times[lost.all_shut]);
  put(json, "still_held", goes_on ? std::optional<StdVolume>() : gas(lost.most.back() - most));
  json["goes_on"] = goes_on;
  Json curve{{"at_s", Json::array()}, {"kg_low", Json::array()}, {"kg", Json::array()}};
  for (const std::size_t i :
       plan::thinned(made.times, {&lost.least, &lost.most}, picture_share * lost.most.back())) {
    curve["at_s"].push_back(made.times[i].si());
    curve["kg_low"].push_back(lost.least[i]);
    curve["kg"].push_back(lost.most[i]);
  }
  json["curve"] = curve;
  return json;
}

Json rehearsal_reply(const RehearseQuestion& question, const Rehearsal& made) {
  return Writing(question, made).go();
}

}  // namespace bellhole::wire
