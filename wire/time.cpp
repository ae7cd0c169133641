#include "wire/time.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace bellhole::wire {
namespace {

using network::Network;
using units::Toward;

Json customer_json(const Network& network, const network::CustomerTime& time) {
  const auto c = static_cast<std::size_t>(time.customer);
  Json json;
  json["id"] = network.customers.id[c];
  json["street"] = network.customers.street[c];
  json["must_not_lose"] = network.customers.must_not_lose[c] != 0;
  json["cut_off"] = time.cut_off;
  json["at_once"] = time.at_once;
  put(json, "time_left", time.shortest);
  put(json, "expected", time.expected);
  put(json, "longest", time.longest);
  put(json, "pressure_now", time.now);
  put(json, "least", time.least);
  return json;
}

Json readings_json(const network::TimeQuestion& question, const network::TimeLeft& left) {
  Json list = Json::array();
  for (std::size_t k = 0; k < left.readings.size(); ++k) {
    const network::Reading& reading = question.readings[k];
    Json json;
    put(json, "at", reading.at);
    json["place"] = reading.place_says;
    put(json, "pressure", reading.pressure);
    put(json, "expected", left.readings[k].expected);
    json["draw_factor"] =
        left.readings[k].factor ? number_or_null(*left.readings[k].factor) : Json(nullptr);
    list.push_back(json);
  }
  return list;
}

std::string says_of(const Network& network, const network::TimeLeft& left, units::System system) {
  if (left.order.empty()) return "nobody falls short in the time that was looked at";
  const network::CustomerTime& first = left.order.front();
  const std::string& id = network.customers.id[static_cast<std::size_t>(first.customer)];
  if (first.at_once) {
    return fmt::format("{} is out at once; {} customers fall short in all", id, left.order.size());
  }
  return fmt::format("{} before the first customer ({}) falls short; {} do in all",
                     units::print(first.shortest, system, Toward::down), id, left.order.size());
}

}  // namespace

Json time_reply(const network::Model& model, const network::TimeQuestion& question,
                const network::TimeLeft& left, units::System system) {
  const Network& network = model.network();
  Json json;
  json["customers"] = Json::array();
  for (const auto& time : left.order) json["customers"].push_back(customer_json(network, time));
  json["cut_off"] = left.cut_off;
  json["says"] = says_of(network, left, system);
  std::optional<Duration> first;
  if (!left.order.empty()) first = left.order.front().shortest;
  put(json, "time_left", first);
  put(json, "horizon", question.horizon);
  json["readings"] = readings_json(question, left);
  json["fit"] = nullptr;
  if (left.fit) {
    json["fit"] = {{"draw_factor_least", left.fit->least},
                   {"draw_factor_middle", left.fit->middle},
                   {"draw_factor_most", left.fit->most}};
  }
  Json account;
  put(account, "held_before", left.account.begun);
  put(account, "held_after", left.account.ended);
  put(account, "fed", left.account.fed);
  put(account, "delivered", left.account.delivered);
  json["account"] = account;
  return json;
}

Json start_reply(const Network& network, const network::StartIf& start, units::System system,
                 std::string_view until) {
  Json json;
  put(json, "until", start.until);
  put(json, "stays_above", start.stays_above);
  json["at_coldest"] = start.at_coldest;
  json["short_below"] =
      start.short_below == network::none
          ? Json(nullptr)
          : Json(network.customers.id[static_cast<std::size_t>(start.short_below)]);
  if (!start.stays_above) {
    json["says"] =
        fmt::format("somebody who is to stay on falls short before {} at any temperature", until);
  } else if (start.at_coldest) {
    json["says"] = fmt::format(
        "nobody who is to stay on falls short before {} down to {}, the coldest looked at", until,
        units::print(*start.stays_above, system, Toward::up));
  } else {
    json["says"] = fmt::format("start if it stays above {} until {}",
                               units::print(*start.stays_above, system, Toward::up), until);
  }
  return json;
}

}  // namespace bellhole::wire
