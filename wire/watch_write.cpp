#include <array>
#include <nlohmann/json.hpp>

#include "wire/closed.hpp"
#include "wire/watch.hpp"

namespace bellhole::wire {
namespace {

using linepack::Judged;
using linepack::Watched;
using linepack::WatchQuestion;

constexpr std::array<std::string_view, 3> asks_words{"fed_elsewhere", "shut_off_tight",
                                                     "all_meters_shut"};
constexpr std::array needle_words{"too_soon", "held", "fell", "rose", "moved", "both_ways"};

Json band_json(const std::optional<linepack::Band>& band) {
  Json json{{"low", nullptr}, {"high", nullptr}};
  if (band) json = {{"low", band->low.si()}, {"high", band->high.si()}};
  return json;
}

void put_left(Json& json, const std::optional<linepack::Drained>& left) {
  put(json, "usable", left ? std::optional(left->usable) : std::optional<StdVolume>());
  put(json, "time_left", left ? left->shortest : std::optional<Duration>());
  put(json, "time_left_longest", left ? left->longest : std::optional<Duration>());
  json["out_at_once"] = left ? Json(left->at_once) : Json(nullptr);
}

Json judged_json(const Judged& judged) {
  Json json;
  json["count"] = judged.count;
  json["needle"] = needle_words[static_cast<std::size_t>(judged.needle)];
  put(json, "watched", judged.watched);
  put(json, "last", judged.last);
  put(json, "fell", judged.fell);
  put(json, "rose", judged.rose);
  put(json, "change", judged.change);
  put(json, "rate", judged.rate);
  put(json, "flow", judged.flow);
  put(json, "time_left_at_rate", judged.at_rate);
  put_left(json, judged.left);
  return json;
}

Json gauge_json(const linepack::Gauge& gauge) {
  Json json;
  put(json, "step", gauge.step);
  json["steps"] = gauge.steps;
  json["range_pa_gauge"] = nullptr;
  if (gauge.range) json["range_pa_gauge"] = {gauge.range->first.si(), gauge.range->second.si()};
  return json;
}

void put_tables(Json& json, const Watched& watched) {
  Json expect = Json::array(), shows = Json::array(), finer = Json::array();
  for (const auto& line : watched.expect) {
    Json item;
    put(item, "at", line.at);
    put(item, "at_low_flow", line.at_low);
    put(item, "at_high_flow", line.at_high);
    expect.push_back(item);
  }
  for (const auto& line : watched.shows) {
    Json item;
    put(item, "in", line.in);
    put(item, "flow", line.flow);
    shows.push_back(item);
  }
  for (const auto& line : watched.finer) {
    Json item;
    put(item, "step", line.step);
    put(item, "watch", line.watch);
    finer.push_back(item);
  }
  json["expect"] = expect;
  json["shows"] = shows;
  json["finer"] = finer;
}

}  // namespace

std::string_view asks_word(linepack::Asks asks) {
  return asks_words[static_cast<std::size_t>(asks)];
}

Json watch_json(const Watched& watched, const WatchQuestion& question,
                const procedure::Profile& profile, units::System system) {
  Json json;
  json["question"] = "watch";
  json["asks"] = asks_word(question.asks);
  json["units"] = word_of(system);
  json["profile"] = {{"id", profile.id()}, {"title", profile.title()}};
  json["says"] = watched.says;
  json["not_concluded"] = watched.not_concluded;
  json["base"] = base_json(question.closed.base);
  put(json, "volume", question.closed.volume);
  put(json, "temperature", question.closed.temperature);
  put(json, "barometer", question.closed.barometer);
  put(json, "pressure", question.pressure);
  json["draw_std_m3_per_s"] = nullptr;
  if (question.draw)
    json["draw_std_m3_per_s"] = {question.draw->low.si(), question.draw->high.si()};
  put(json, "must_show", watched.least);
  json["fall_pa_per_s"] = band_json(watched.fall);
  json["rise_pa_per_s"] = band_json(watched.rise);
  json["gauge"] = gauge_json(question.gauge);
  put(json, "must_move", watched.must_move);
  put(json, "faked", watched.faked);
  put(json, "watch", watched.watch);
  put(json, "within", question.within);
  put(json, "step_needed", watched.step_needed);
  put(json, "floor", question.floor);
  put_left(json, watched.left);
  put_tables(json, watched);
  json["readings"] = watched.judged ? judged_json(*watched.judged) : Json(nullptr);
  return json;
}

}  // namespace bellhole::wire
