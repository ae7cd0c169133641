// "bypass": what keeps customers on while something is shut.
#include "plan/bypass.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "ask/conditions.hpp"
#include "ask/documents.hpp"
#include "ask/place.hpp"
#include "ask/shutting.hpp"
#include "network/locate.hpp"
#include "units/parse.hpp"
#include "wire/bypass.hpp"

namespace bellhole::ask {
namespace {

using network::Network;

/// A hose goes round the hole, up and down at its ends.
constexpr double longer_than_straight = 1.5;
/// Of drawn or moulded plastic and smooth rubber.
constexpr Length smooth = Length::from_si(1.5e-6);

std::string trimmed(std::string_view text) {
  const auto begin = text.find_first_not_of(" \t\r");
  if (begin == std::string_view::npos) return {};
  return std::string(text.substr(begin, text.find_last_not_of(" \t\r") - begin + 1));
}

std::vector<std::string> parts_of(std::string_view text, char between) {
  std::vector<std::string> parts;
  for (;;) {
    const auto sign = text.find(between);
    parts.push_back(trimmed(text.substr(0, sign)));
    if (sign == std::string_view::npos) return parts;
    text = text.substr(sign + 1);
  }
}

template <class Kind>
Result<Quantity<Kind>> typed(const Question& question, const std::string& text,
                             std::string_view where) {
  BELLHOLE_TRY(read, units::parse<Kind>(text, where));
  if (!read.assumed.empty()) question.assumed.push_back(read.assumed);
  return read.value;
}

/// "2in hose@1.94in", "2in hose@1.94in bore", "2in hose@1.94in@100psig".
Result<plan::BypassSize> size_of(const Question& question, const std::string& text) {
  const auto parts = parts_of(text, '@');
  if (parts.size() < 2 || parts.size() > 3 || parts[0].empty()) {
    return trouble(Code::unreadable_value, "sizes", text,
                   "write NAME@BORE or NAME@BORE@PRESSURE: \"2in hose@1.94in@100psig\"");
  }
  constexpr std::string_view word = " bore";
  std::string bore = parts[1];
  if (bore.ends_with(word)) bore.resize(bore.size() - word.size());
  plan::BypassSize size{.name = parts[0], .bore = {}, .rated = {}};
  BELLHOLE_TRY(wide, typed<kinds::Length>(question, bore, "sizes"));
  if (!(wide.si() > 0.0))
    return trouble(Code::out_of_range, "sizes", text, "give a bore greater than 0");
  size.bore = wide;
  if (parts.size() == 3) {
    BELLHOLE_TRY(rated, typed<kinds::GaugePressure>(question, parts[2], "sizes"));
    size.rated = rated;
  }
  return size;
}

/// Those typed, then those of the company's list: one a line, empty lines and # left out.
Result<std::vector<plan::BypassSize>> sizes_of(const Question& question) {
  BELLHOLE_TRY(texts, question.request.texts("sizes"));
  BELLHOLE_TRY(list, question.request.text("size_list"));
  if (list) {
    for (const std::string& line : parts_of(*list, '\n')) {
      if (!line.empty() && line.front() != '#') texts.push_back(line);
    }
  }
  std::vector<plan::BypassSize> sizes;
  for (const std::string& text : texts) {
    BELLHOLE_TRY(size, size_of(question, text));
    sizes.push_back(size);
  }
  return sizes;
}

/// "N-4@40psig:5000scfh".
Result<plan::PortableSupply> supply_of(const Question& question, const Network& network,
                                       const std::string& text) {
  const auto sign = text.rfind('@');
  const auto colon = text.rfind(':');
  if (sign == std::string::npos || colon == std::string::npos || colon < sign) {
    return trouble(Code::unreadable_value, "supplies", text,
                   "write NODE@PRESSURE:CAPACITY: N-4@40psig:5000scfh");
  }
  plan::PortableSupply supply{.name = "at " + text.substr(0, sign)};
  BELLHOLE_TRY(node, network::find_node(network, text.substr(0, sign), "supplies"));
  BELLHOLE_TRY(pressure, typed<kinds::GaugePressure>(
                             question, text.substr(sign + 1, colon - sign - 1), "supplies"));
  BELLHOLE_TRY(capacity, typed<kinds::StdFlow>(question, text.substr(colon + 1), "supplies"));
  if (!(capacity.si() > 0.0)) {
    return trouble(Code::out_of_range, "supplies", text, "give a capacity greater than 0");
  }
  supply.node = node;
  supply.pressure = pressure;
  supply.capacity = capacity;
  return supply;
}

Result<plan::OnMain> on_main(const Question& question, const Network& network,
                             const std::string& text) {
  BELLHOLE_TRY(place, place_on_pipe(network, text, question.assumed));
  return plan::OnMain{place.pieces.front().pipe, place.pieces.front().begin};
}

/// What must stay without gas: named, and the mains that are shut at both ends.
Result<std::vector<plan::OnMain>> work_places(const Question& question, const Network& network,
                                              const std::vector<std::string>& closed) {
  std::vector<plan::OnMain> work;
  BELLHOLE_TRY(texts, question.request.texts("work"));
  for (const std::string& text : texts) {
    BELLHOLE_TRY(place, place_on_pipe(network, text, question.assumed));
    for (const plan::Piece& piece : place.pieces) {
      work.push_back({piece.pipe, piece.begin});
      if (piece.end > piece.begin) work.push_back({piece.pipe, piece.end});
    }
  }
  for (const std::string& text : closed) {
    const auto found = std::ranges::find(network.pipes.id, text);
    if (found == network.pipes.id.end()) continue;
    const auto pipe = static_cast<std::size_t>(found - network.pipes.id.begin());
    work.push_back({static_cast<network::Index>(pipe), network.pipes.length[pipe] * 0.5});
    question.assumed.push_back(fmt::format("main {} must stay without gas", text));
  }
  return work;
}

Result<bool> read_pipe(const Question& question, plan::BypassQuestion& ask) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(from, request.text("from"));
  BELLHOLE_TRY(to, request.text("to"));
  BELLHOLE_TRY(sizes, sizes_of(question));
  BELLHOLE_TRY(length, request.quantity<kinds::Length>("length"));
  BELLHOLE_TRY(roughness, request.quantity<kinds::Length>("roughness"));
  BELLHOLE_TRY(loss, request.number("loss"));
  if (from.has_value() != to.has_value() || from.has_value() == sizes.empty()) {
    return trouble(Code::missing_value, "from, to, sizes", "",
                   "a temporary pipe needs both of its ends and at least one size; leave out all "
                   "three to look at valves and supplies only");
  }
  if (!from) return true;
  BELLHOLE_TRY(begin, on_main(question, ask.network, *from));
  BELLHOLE_TRY(end, on_main(question, ask.network, *to));
  ask.between = std::pair(begin, end);
  ask.sizes = std::move(sizes);
  if (length) {
    ask.length = *length;
  } else {
    const auto a = network::point_on(ask.network, begin.pipe, begin.station),
               b = network::point_on(ask.network, end.pipe, end.station);
    ask.length = Length::from_si(longer_than_straight * std::hypot(b.x - a.x, b.y - a.y));
    question.assumed.push_back(fmt::format(
        "temporary pipe {} long: {} times the straight line between its ends, since no length "
        "was given",
        units::print(ask.length, ask.system), longer_than_straight));
  }
  ask.roughness = roughness.value_or(smooth);
  if (!roughness) question.assumed.push_back("temporary pipe as smooth as new plastic, 0.0015 mm");
  ask.loss = loss;
  if (!(ask.length.si() > 0.0) || !(ask.roughness.si() >= 0.0) || loss.value_or(0.0) < 0.0) {
    return trouble(Code::out_of_range, "length, roughness, loss", "",
                   "give a length greater than 0, and a roughness and a loss of at least 0");
  }
  question.assumed.push_back(
      loss ? fmt::format("fittings lose K = {} in all, entrance and exit among it", *loss)
           : std::string("fittings: entrance 0.5, exit 1.0, two tee branches of 60 f_T, two ball "
                         "valves of 3 f_T (Crane TP-410, from memory), since no loss was given; "
                         "the holes in the mains are taken as wide as the bore"));
  question.assumed.push_back(
      "fittings are laid in the network as the length of pipe that loses as much at the flow "
      "through it");
  return true;
}

}  // namespace

Answer bypass(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  const Network& network = loaded->network;
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  BELLHOLE_TRY(weather, weather_of(question, network::LoadCase::high));
  BELLHOLE_TRY(closed, request.texts("close"));
  if (closed.empty()) {
    return trouble(Code::missing_value, "close", "nothing is shut",
                   "name what is shut: a valve, a regulator, a source, a main or ID@STATION");
  }
  plan::BypassQuestion ask{.network = network,
                           .conditions = weather.conditions,
                           .open = weather.scenario,
                           .shut = weather.scenario,
                           .profile = profile,
                           .system = system};
  for (const std::string& text : closed) {
    BELLHOLE_TRY(one, shut(question, network, text, ask.shut));
    static_cast<void>(one);
  }
  BELLHOLE_TRY(work, work_places(question, network, closed));
  ask.work = std::move(work);
  BELLHOLE_TRY(pipe, read_pipe(question, ask));
  static_cast<void>(pipe);
  BELLHOLE_TRY(supplies, request.texts("supplies"));
  for (const std::string& text : supplies) {
    BELLHOLE_TRY(supply, supply_of(question, network, text));
    ask.supplies.push_back(supply);
  }
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);

  BELLHOLE_TRY(answer, plan::bypasses_of(ask, question.context.watch));
  wire::Json reply = wire::bypass_reply(ask, answer);
  reply["question"] = "bypass";
  reply["units"] = system == units::System::us ? "us" : "metric";
  wire::Json conditions;
  wire::put(conditions, "temperature", weather.scenario.air);
  wire::put(conditions, "ground_temperature", weather.conditions.ground);
  wire::put(conditions, "hour", weather.scenario.hour);
  conditions["closed"] = closed;
  conditions["procedure"] = profile.id();
  reply["conditions"] = conditions;
  question.assumed.push_back(
      "judged at the high load of this hour and temperature, the highest pressures at its low "
      "load; look at the coldest hour that the bypass must last through as well");
  question.assumed.push_back(
      "how far connections keep from shut places is not judged here: `plan` and the procedure "
      "have the clearance");
  wire::put_answer(reply, answer.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
