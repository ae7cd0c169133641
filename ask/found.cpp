#include "ask/found.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "plan/found.hpp"
#include "wire/squeeze.hpp"

namespace bellhole::ask {
namespace {

using network::Network;

constexpr std::string_view written =
    "write the main, then what was found of it: M-12 size=IPS 4, dr=11.5, material=PE2708";

std::unexpected<Trouble> unreadable(std::string_view text) {
  return trouble(Code::unreadable_value, "found", std::string(text), std::string(written));
}

/// "size=IPS 4, dr=11.5" as an object.
Result<wire::Json> object_of(std::string_view text) {
  wire::Json json = wire::Json::object();
  while (!text.empty()) {
    const auto comma = text.find(',');
    std::string_view one = text.substr(0, comma);
    text = comma == std::string_view::npos ? std::string_view() : text.substr(comma + 1);
    one.remove_prefix(std::min(one.find_first_not_of(' '), one.size()));
    const auto sign = one.find('=');
    if (sign == 0 || sign == std::string_view::npos || sign + 1 == one.size())
      return unreadable(one);
    json[std::string(one.substr(0, sign))] = one.substr(sign + 1);
  }
  return json;
}

Result<squeeze::Found> read_one(std::string_view keys, std::vector<std::string>& assumed) {
  BELLHOLE_TRY(json, object_of(keys));
  BELLHOLE_TRY(object, wire::Object::of(json, "found", &assumed));
  squeeze::Found found;
  const Result<bool> read = wire::read_found(object, found);
  if (!read) return std::unexpected(read.error());
  const Result<bool> done = object.done();
  if (!done) return std::unexpected(done.error());
  if (found.pressure || found.maop || found.temperature || found.hdb_140)
    return trouble(Code::contradiction, "found", std::string(keys),
                   "say only what the pipe is: its pressure and its warmth are not the map's");
  return found;
}

}  // namespace

Result<Network> as_found(const Question& question, Network network) {
  BELLHOLE_TRY(texts, question.request.texts("found"));
  for (const std::string& text : texts) {
    const auto blank = text.find(' ');
    if (blank == std::string::npos) return unreadable(text);
    const auto main = std::ranges::find(network.pipes.id, text.substr(0, blank));
    if (main == network.pipes.id.end())
      return trouble(Code::unknown_element, "found", text.substr(0, blank),
                     "name a main as the map has it");
    BELLHOLE_TRY(found, read_one(std::string_view(text).substr(blank + 1), question.assumed));
    const auto index = static_cast<network::Index>(main - network.pipes.id.begin());
    BELLHOLE_TRY(says, plan::lay_over(network, index, found));
    question.assumed.push_back(says);
  }
  return network;
}

}  // namespace bellhole::ask
