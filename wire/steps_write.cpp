#include <nlohmann/json.hpp>

#include "wire/steps.hpp"
#include "wire/watch.hpp"

namespace bellhole::wire {
namespace {

std::size_t at(network::Index index) { return static_cast<std::size_t>(index); }

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json id_or_null(const std::vector<std::string>& ids, network::Index index) {
  return index == network::none ? Json(nullptr) : Json(ids[at(index)]);
}

constexpr std::array post_words{"shutoff", "regulator", "low_point", "other"};
constexpr std::array point_words{"live_side", "part_side", "regulator_inlet", "regulator_outlet",
                                 "low_point"};

Json posts_json(const std::vector<plan::Post>& posts) {
  Json list = Json::array();
  for (const plan::Post& post : posts) {
    list.push_back({{"id", post.id},
                    {"kind", post_words[static_cast<std::size_t>(post.kind)]},
                    {"role", post.role},
                    {"place", post.place},
                    {"element", post.element},
                    {"why", post.why}});
  }
  return list;
}

Json points_json(const network::Network& network, const plan::ShutoffPlan& plan) {
  Json list = Json::array();
  for (const plan::GaugePoint& point : plan.steps.points) {
    Json one;
    one["id"] = point.id;
    one["kind"] = point_words[static_cast<std::size_t>(point.kind)];
    one["at"] = point.at;
    one["shutoff"] = point.shutoff ? Json(plan.shutoffs[*point.shutoff].letter) : Json(nullptr);
    one["regulator"] = id_or_null(network.regulators.id, point.regulator);
    one["tier"] = id_or_null(network.tiers.id, point.tier);
    one["node"] = id_or_null(network.nodes.id, point.node);
    one["pipe"] = id_or_null(network.pipes.id, point.pipe);
    put(one, "station",
        point.pipe == network::none ? std::optional<Length>() : std::optional(point.station));
    one["toward"] = point.toward;
    one["customer"] = id_or_null(network.customers.id, point.customer);
    one["post"] = point.post;
    list.push_back(one);
  }
  return list;
}

Json gauge_json(const plan::Gauge& gauge) {
  Json json;
  json["point"] = gauge.point;
  json["at"] = gauge.at;
  put(json, "range", gauge.range);
  put(json, "expect", gauge.expect);
  put(json, "expect_least", gauge.expect_least);
  put(json, "expect_most", gauge.expect_most);
  put(json, "low", gauge.low);
  put(json, "high", gauge.high);
  put(json, "every", gauge.every);
  json["how_often"] = gauge.every ? "from time to time" : "without a break";
  json["to"] = gauge.to;
  json["post"] = gauge.post;
  return json;
}

Json watch_json(const plan::StepWatch& watch) {
  Json json;
  json["asks"] = asks_word(watch.asks);
  json["asks_in_words"] = linepack::words(watch.asks);
  put(json, "volume", watch.volume);
  put(json, "pressure", watch.pressure);
  json["draw_std_m3_per_s"] = {watch.draw.low.si(), watch.draw.high.si()};
  put(json, "gauge_step", watch.step);
  put(json, "least", watch.least);
  put(json, "time_left", watch.left);
  json["says"] = text_or_null(watch.says);
  json["not_concluded"] = watch.not_concluded;
  json["assumed"] = watch.assumed;
  return json;
}

Json step_json(const plan::Step& step) {
  Json json;
  json["id"] = step.id;
  json["kind"] = plan::to_string(step.kind);
  json["does"] = step.does;
  json["precondition"] = text_or_null(step.precondition);
  json["after"] = step.after;
  json["post"] = {{"id", text_or_null(step.post)}, {"role", step.role}, {"place", step.place}};
  json["about"] = text_or_null(step.about);
  Json gauges = Json::array();
  for (const plan::Gauge& gauge : step.gauges) gauges.push_back(gauge_json(gauge));
  json["gauges"] = gauges;
  json["if_not"] = step.if_not;
  json["report_to"] = step.report_to;
  put(json, "undo", step.undo);
  put(json, "time_left", step.time_left);
  json["point_of_no_return"] = step.point_of_no_return;
  json["hold_point"] = step.hold_point;
  json["names_needed"] = step.names_needed;
  put(json, "gas_left", step.gas_left);
  json["watch"] = step.watch ? watch_json(*step.watch) : Json(nullptr);
  Json rows = Json::array();
  for (const plan::ToolRow& row : step.tool_rows)
    rows.push_back({{"tool", row.tool}, {"says", row.says}, {"source", row.source}});
  json["tool_rows"] = rows;
  json["source"] = step.source;
  json["evidence"] = to_string(step.evidence);
  json["findings"] = to_json(step.findings);
  return json;
}

Json letters(const plan::ShutoffPlan& plan, const std::vector<std::size_t>& order) {
  Json list = Json::array();
  for (const std::size_t i : order) list.push_back(plan.shutoffs[i].letter);
  return list;
}

}  // namespace

void put_steps(Json& json, const network::Network& network, const plan::Order& order,
               const plan::ShutoffPlan& plan) {
  const plan::StepList& list = plan.steps;
  json["order"] = {{"id", order.id},
                   {"title", order.title},
                   {"closing", letters(plan, list.closing)},
                   {"opening", letters(plan, list.opening)},
                   {"because", text_or_null(list.closing_because)},
                   {"bypass", list.bypass}};
  json["posts"] = posts_json(list.posts);
  json["gauge_points"] = points_json(network, plan);
  Json steps = Json::array();
  for (const plan::Step& step : list.steps) steps.push_back(step_json(step));
  json["steps"] = steps;
}

}  // namespace bellhole::wire
