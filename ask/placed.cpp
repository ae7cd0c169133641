#include "ask/placed.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ask/place.hpp"
#include "units/parse.hpp"

namespace bellhole::ask {
namespace {

using plan::HandPlaced;
using plan::Means;

constexpr std::string_view written =
    "write plug M-12@41m, and what is known of it: cost=4h time=90min pressure_most=60psig";

std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  while (!text.empty()) {
    const auto blank = text.find(' ');
    if (blank != 0) words.push_back(text.substr(0, blank));
    text = blank == std::string_view::npos ? std::string_view() : text.substr(blank + 1);
  }
  return words;
}

Result<bool> read_known(std::string_view word, HandPlaced& hand, std::string_view where) {
  const auto sign = word.find('=');
  const std::string_view key = word.substr(0, sign);
  if (sign == std::string_view::npos || (key != "cost" && key != "time" && key != "pressure_most"))
    return trouble(Code::unreadable_value, std::string(where), std::string(word),
                   std::string(written));
  const std::string_view value = word.substr(sign + 1);
  if (key == "pressure_most") {
    BELLHOLE_TRY(pressure, units::parse<kinds::GaugePressure>(value, where));
    hand.pressure_most = pressure.value;
    return true;
  }
  BELLHOLE_TRY(duration, units::parse<kinds::Duration>(value, where));
  constexpr double a_year_s = 366.0 * 86400.0;
  if (duration.value.si() < 0.0 || duration.value.si() > a_year_s)
    return trouble(Code::out_of_range, std::string(where), std::string(value),
                   "give a time of nought or more");
  (key == "cost" ? hand.cost : hand.time) = duration.value;
  return true;
}

Result<HandPlaced> read_one(std::string_view text, const network::Network& network,
                            std::vector<std::string>& assumed) {
  const std::string where = "shut_offs";
  const auto words = words_of(text);
  if (words.size() < 2)
    return trouble(Code::unreadable_value, where, std::string(text), std::string(written));
  BELLHOLE_TRY(means, wire::one_of(std::string(words[0]), {"plug", "bag", "cap", "other"}, where));
  constexpr std::array kinds{Means::plug, Means::bag, Means::cap, Means::other};
  BELLHOLE_TRY(at, place_on_pipe(network, std::string(words[1]), assumed));
  const plan::Piece& piece = at.pieces.front();
  if (piece.begin != piece.end)
    return trouble(Code::unreadable_value, where, std::string(words[1]),
                   "a shut-off stands at one place: PIPE@STATION");
  HandPlaced hand{.means = kinds[means], .pipe = piece.pipe, .station = piece.begin};
  for (std::size_t i = 2; i < words.size(); ++i) {
    BELLHOLE_TRY(read, read_known(words[i], hand, where));
    static_cast<void>(read);
  }
  return hand;
}

/// Two things cannot part a main at the same place, and inside the work nothing does.
Result<bool> free_place(const HandPlaced& hand, std::string_view text,
                        const std::vector<HandPlaced>& others, const network::Network& network,
                        const plan::Work& work) {
  const auto clash = [&](const char* why) {
    return trouble(Code::contradiction, "shut_offs", std::string(text), why);
  };
  const auto same = [&](network::Index pipe, Length station) {
    return pipe == hand.pipe && std::abs((station - hand.station).si()) < 1e-6;
  };
  for (const plan::Piece& piece : work.pieces) {
    if (piece.pipe == hand.pipe && piece.begin <= hand.station && hand.station <= piece.end)
      return clash("it lies in the work: place it outside");
  }
  for (const HandPlaced& other : others) {
    if (same(other.pipe, other.station)) return clash("another is placed there already");
  }
  for (std::size_t v = 0; v < network.valves.size(); ++v) {
    if (same(network.valves.pipe[v], network.valves.station[v]))
      return clash("a valve stands there: place it beside the valve");
  }
  return true;
}

}  // namespace

Result<std::vector<HandPlaced>> placed_of(const Question& question, const network::Network& network,
                                          const plan::Work& work) {
  BELLHOLE_TRY(texts, question.request.texts("shut_offs"));
  std::vector<HandPlaced> list;
  for (const std::string& text : texts) {
    BELLHOLE_TRY(hand, read_one(text, network, question.assumed));
    BELLHOLE_TRY(fine, free_place(hand, text, list, network, work));
    static_cast<void>(fine);
    list.push_back(hand);
  }
  return list;
}

}  // namespace bellhole::ask
