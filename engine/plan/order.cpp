#include "plan/order.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace bellhole::plan {
namespace {

// In the order of StepKind.
constexpr std::array<std::string_view, step_kinds> kind_words{
    "clear_area",    "report",         "identify",       "readings",     "dig",
    "gauges_on",     "meters_shut",    "bypass_none",    "bypass_made",  "bypass_tested",
    "bypass_purged", "bypass_flowing", "post",           "prepare_tool", "ground_wet",
    "set_tool",      "shut",           "second_squeeze", "locks_on",     "hoses_off",
    "hold_watch",    "vent_down",      "let_by_watch",   "cut",          "join",
    "test",          "tie_in",         "purge",          "soap",         "equalise",
    "open",          "bypass_off",     "reround",        "look",         "mark",
    "reinforce",     "tracer",         "relight",        "stand_down",   "as_laid",
    "tool_care",     "other"};

constexpr std::array job_names{
    std::string_view("work"),  std::string_view("out"),     std::string_view("must"),
    std::string_view("first"), std::string_view("closing"), std::string_view("because"),
    std::string_view("posts"), std::string_view("part"),    std::string_view("bypass")};
constexpr std::array shutoff_names{std::string_view("letter"),  std::string_view("where"),
                                   std::string_view("element"), std::string_view("pipe"),
                                   std::string_view("tool"),    std::string_view("stop"),
                                   std::string_view("left"),    std::string_view("spare")};
constexpr std::array post_names{std::string_view("post"), std::string_view("role"),
                                std::string_view("place"), std::string_view("why")};

template <class List, class Value>
bool among(const List& list, const Value& value) {
  return std::ranges::find(list, value) != list.end();
}

bool of_shutoff(Wanted wanted) { return wanted <= Wanted::hydraulic; }

std::unexpected<Trouble> in_item(Code code, const OrderItem& item, std::string value,
                                 std::string fix) {
  return trouble(code, fmt::format("item {}", item.id), std::move(value), std::move(fix));
}

Result<bool> check_names(const OrderItem& item, Each each) {
  const auto known = names_in(each);
  for (const std::string& text :
       {item.does, item.precondition, item.role, item.place, item.if_not, item.report_to}) {
    for (std::size_t open = text.find('{'); open != std::string::npos;
         open = text.find('{', open + 1)) {
      const std::size_t close = text.find('}', open);
      const std::string name =
          close == std::string::npos ? text.substr(open) : text.substr(open + 1, close - open - 1);
      if (close != std::string::npos && among(known, std::string_view(name))) continue;
      return in_item(Code::unknown_element, item, name,
                     fmt::format("a text of this block may name {}", fmt::join(known, ", ")));
    }
  }
  return true;
}

Result<bool> check_when(const OrderItem& item, Each each) {
  const auto has = [&](Wanted w) { return among(item.when, w); };
  const bool shutoffs = each == Each::shutoff || each == Each::opening;
  for (const Wanted wanted : item.when) {
    if (of_shutoff(wanted) && !shutoffs) {
      return in_item(Code::contradiction, item,
                     std::string(wanted_words[static_cast<std::size_t>(wanted)]),
                     "this condition is about a shut-off: put the step into a block that repeats "
                     "for shutoff or opening");
    }
  }
  const int kinds = static_cast<int>(has(Wanted::squeeze)) + static_cast<int>(has(Wanted::valve)) +
                    static_cast<int>(has(Wanted::outlet)) + static_cast<int>(has(Wanted::placed));
  if (kinds > 1 || (has(Wanted::bypass) && has(Wanted::no_bypass))) {
    return in_item(Code::contradiction, item, "when",
                   "these conditions never hold together: leave one out");
  }
  return true;
}

/// Two steps under one id are one step in two forms: their conditions must exclude each other.
bool exclude(const OrderItem& a, const OrderItem& b) {
  const auto against = [](Wanted x, Wanted y) {
    const bool kinds = x <= Wanted::placed && y <= Wanted::placed && x != y;
    const bool bypass = (x == Wanted::bypass && y == Wanted::no_bypass) ||
                        (x == Wanted::no_bypass && y == Wanted::bypass);
    return kinds || bypass;
  };
  return std::ranges::any_of(a.when, [&](Wanted x) {
    return std::ranges::any_of(b.when, [&](Wanted y) { return against(x, y); });
  });
}

}  // namespace

std::string_view to_string(StepKind kind) { return kind_words[static_cast<std::size_t>(kind)]; }

std::optional<StepKind> step_kind_from(std::string_view word) {
  const auto found = std::ranges::find(kind_words, word);
  if (found == kind_words.end()) return std::nullopt;
  return static_cast<StepKind>(found - kind_words.begin());
}

std::vector<std::string_view> names_in(Each each) {
  std::vector<std::string_view> names(job_names.begin(), job_names.end());
  if (each == Each::shutoff || each == Each::opening)
    names.insert(names.end(), shutoff_names.begin(), shutoff_names.end());
  if (each == Each::post) names.insert(names.end(), post_names.begin(), post_names.end());
  return names;
}

Result<bool> check_order(const Order& order) {
  std::vector<std::pair<const OrderItem*, Each>> items;
  for (const OrderBlock& block : order.blocks)
    for (const OrderItem& item : block.items) items.emplace_back(&item, block.each);
  if (items.empty())
    return trouble(Code::missing_value, "blocks", order.id, "an order has at least one step");
  for (const auto& [item, each] : items) {
    for (const auto& looked : {check_names(*item, each), check_when(*item, each)})
      if (!looked) return looked;
    for (const auto& [other, other_each] : items) {
      if (other == item) break;
      if (other->id == item->id && (other_each != each || !exclude(*other, *item)))
        return in_item(Code::contradiction, *item, item->id,
                       "this id stands twice: give each step its own");
    }
    for (const std::string& before : item->after) {
      if (std::ranges::none_of(items, [&](const auto& i) { return i.first->id == before; }))
        return in_item(Code::unknown_element, *item, before,
                       "no step of this order has that id: name one under `after`");
    }
  }
  return true;
}

std::string filled(std::string_view text,
                   const std::vector<std::pair<std::string_view, std::string>>& values) {
  std::string out;
  while (!text.empty()) {
    const std::size_t open = text.find('{');
    const std::size_t close = text.find('}', open);
    if (open == std::string_view::npos || close == std::string_view::npos) break;
    const std::string_view name = text.substr(open + 1, close - open - 1);
    out += text.substr(0, open);
    const auto found =
        std::ranges::find(values, name, [](const auto& value) { return value.first; });
    out += found == values.end() ? std::string(text.substr(open, close - open + 1)) : found->second;
    text.remove_prefix(close + 1);
  }
  return out + std::string(text);
}

}  // namespace bellhole::plan
