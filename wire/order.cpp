#include "wire/order.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "units/parse.hpp"
#include "wire/built_in.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {
namespace {

constexpr int version = 1;
constexpr std::string_view document = "bellhole.order";

template <std::size_t n>
Result<std::size_t> word_of(const std::string& text, const std::array<std::string_view, n>& words,
                            const std::string& where) {
  const auto found = std::ranges::find(words, std::string_view(text));
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  return trouble(Code::unreadable_value, where, text,
                 fmt::format("give one of: {}", fmt::join(words, ", ")));
}

template <class Word, std::size_t n>
Result<std::vector<Word>> words_of(const Object& object, std::string_view key,
                                   const std::array<std::string_view, n>& words) {
  std::vector<Word> list;
  BELLHOLE_TRY(texts, object.texts(key));
  for (const std::string& text : texts) {
    BELLHOLE_TRY(index, word_of(text, words, object.at(key)));
    list.push_back(static_cast<Word>(index));
  }
  return list;
}

/// One of a list of words under a key, the first where it is left out.
template <class Word, std::size_t n>
Result<Word> choice(const Object& object, std::string_view key,
                    const std::array<std::string_view, n>& words) {
  BELLHOLE_TRY(text, object.text(key));
  BELLHOLE_TRY(index, word_of(text.value_or(std::string(words[0])), words, object.at(key)));
  return static_cast<Word>(index);
}

/// "without a break", "profile", or a time: "5min".
Result<plan::HowOften> read_how_often(const Object& object) {
  plan::HowOften how;
  BELLHOLE_TRY(text, object.text("read"));
  if (!text || *text == "without a break") return how;
  if (*text == "profile") {
    how.by_profile = true;
    return how;
  }
  BELLHOLE_TRY(every, units::parse<kinds::Duration>(*text, object.at("read")));
  if (!(every.value.si() > 0.0))
    return trouble(Code::out_of_range, object.at("read"), *text,
                   "give a time above nought, \"profile\" or \"without a break\"");
  how.every = every.value;
  return how;
}

Result<bool> read_texts(const Object& object, plan::OrderItem& item) {
  BELLHOLE_TRY(does, object.need_text("does", "say what is done, verb first"));
  BELLHOLE_TRY(role, object.need_text("role", "say who does it"));
  BELLHOLE_TRY(place, object.need_text("place", "say where"));
  BELLHOLE_TRY(if_not, object.need_text("if_not", "say what is done when it does not come out"));
  BELLHOLE_TRY(report_to, object.need_text("report_to", "say who hears it"));
  BELLHOLE_TRY(precondition, object.text("precondition"));
  item.does = does;
  item.role = role;
  item.place = place;
  item.if_not = if_not;
  item.report_to = report_to;
  item.precondition = precondition.value_or("");
  return true;
}

struct Origin {
  std::string source;
  Evidence evidence = Evidence::common_practice;
};

/// Source and evidence of an object, or of the whole order.
Result<Origin> read_origin(const Object& object, const Origin& otherwise) {
  BELLHOLE_TRY(source, object.text("source"));
  BELLHOLE_TRY(evidence, object.text("evidence"));
  Origin origin{source.value_or(otherwise.source),
                source ? Evidence::common_practice : otherwise.evidence};
  if (evidence) {
    const auto known = evidence_from(*evidence);
    if (!known)
      return trouble(Code::unreadable_value, object.at("evidence"), *evidence,
                     "give seen, from_memory, derived, common_practice, company or maker");
    origin.evidence = *known;
  }
  return origin;
}

Result<bool> read_answering(const Object& object, plan::OrderItem& item) {
  constexpr std::int64_t most_names = 2;
  BELLHOLE_TRY(hold_point, object.flag("hold_point"));
  BELLHOLE_TRY(no_return, object.flag("no_return"));
  BELLHOLE_TRY(names, object.whole("names"));
  if (names && (*names < 0 || *names > most_names))
    return trouble(Code::out_of_range, object.at("names"), std::to_string(*names),
                   "give 0, 1 or 2 names");
  item.hold_point = hold_point.value_or(false);
  item.no_return = no_return.value_or(false);
  item.names = static_cast<int>(names.value_or(0));
  return true;
}

Result<plan::OrderItem> read_item(const Object& object, const Origin& of_order) {
  plan::OrderItem item;
  BELLHOLE_TRY(id, object.need_text("id", "give the step a short name of its own"));
  BELLHOLE_TRY(kind, object.need_text("kind", "say what kind of step it is"));
  const auto known = plan::step_kind_from(kind);
  if (!known)
    return trouble(Code::unreadable_value, object.at("kind"), kind,
                   "give a kind of step; docs/handbook/steps.md lists them");
  item.id = id;
  item.kind = *known;
  for (const auto& read : {read_texts(object, item), read_answering(object, item)})
    if (!read) return std::unexpected(read.error());
  BELLHOLE_TRY(when, words_of<plan::Wanted>(object, "when", plan::wanted_words));
  BELLHOLE_TRY(after, object.texts("after"));
  BELLHOLE_TRY(gauges, words_of<plan::Read>(object, "gauges", plan::read_words));
  BELLHOLE_TRY(how_often, read_how_often(object));
  BELLHOLE_TRY(rows, words_of<squeeze::Stage>(object, "tool_rows", squeeze::stage_words));
  BELLHOLE_TRY(origin, read_origin(object, of_order));
  item.when = when;
  item.after = after;
  item.gauges = gauges;
  item.how_often = how_often;
  item.tool_rows = rows;
  item.source = origin.source;
  item.evidence = origin.evidence;
  const Result<bool> done = object.done();
  if (!done) return std::unexpected(done.error());
  return item;
}

Result<plan::OrderBlock> read_block(const Object& object, const Origin& origin) {
  plan::OrderBlock block;
  BELLHOLE_TRY(each, object.need_text("for_each", "give job, shutoff, opening or post"));
  BELLHOLE_TRY(index, word_of(each, plan::each_words, object.at("for_each")));
  block.each = static_cast<plan::Each>(index);
  BELLHOLE_TRY(steps, object.objects("steps"));
  for (const Object& step : steps) {
    BELLHOLE_TRY(item, read_item(step, origin));
    block.items.push_back(std::move(item));
  }
  const Result<bool> done = object.done();
  if (!done) return std::unexpected(done.error());
  return block;
}

Result<plan::Order> read_whole(const Object& object) {
  plan::Order order;
  BELLHOLE_TRY(id, object.need_text("id", "give the order a short name"));
  BELLHOLE_TRY(title, object.text("title"));
  BELLHOLE_TRY(kind, object.need_text("kind", "give planned or emergency"));
  BELLHOLE_TRY(which, one_of(kind, {"planned", "emergency"}, object.at("kind")));
  BELLHOLE_TRY(first, choice<plan::First>(object, "first", plan::first_words));
  BELLHOLE_TRY(opened, choice<plan::Opened>(object, "opened", plan::opened_words));
  BELLHOLE_TRY(bypass, choice<plan::Bypass>(object, "bypass", plan::bypass_words));
  BELLHOLE_TRY(origin, read_origin(object, {}));
  BELLHOLE_TRY(blocks, object.objects("blocks"));
  order.id = id;
  order.title = title.value_or(id);
  order.kind = which == 0 ? plan::Kind::planned : plan::Kind::emergency;
  order.first = first;
  order.opened = opened;
  order.bypass = bypass;
  for (const Object& block : blocks) {
    BELLHOLE_TRY(one, read_block(block, origin));
    order.blocks.push_back(std::move(one));
  }
  return order;
}

}  // namespace

Result<plan::Order> read_order(std::string_view bytes, std::string_view name) {
  BELLHOLE_TRY(json, parse_json(bytes, name));
  BELLHOLE_TRY(object, Object::of(json, std::string(name), nullptr));
  BELLHOLE_TRY(kind, object.need_text("document",
                                      fmt::format("an order says \"document\": \"{}\"", document)));
  BELLHOLE_TRY(number, object.whole("version"));
  if (kind != document || number != version)
    return trouble(Code::unreadable_document, std::string(name), kind,
                   fmt::format("give a {} of version {}", document, version));
  BELLHOLE_TRY(order, read_whole(object));
  for (const auto& looked : {object.done(), plan::check_order(order)}) {
    if (looked) continue;
    Trouble trouble = looked.error();
    if (!trouble.where.starts_with(name))
      trouble.where = fmt::format("{}: {}", name, trouble.where);
    return std::unexpected(std::move(trouble));
  }
  return std::move(order);
}

Result<plan::Order> built_in_order(plan::Kind kind) {
  return kind == plan::Kind::planned
             ? read_order(built_in::planned_order, "profiles/order-planned.json")
             : read_order(built_in::emergency_order, "profiles/order-emergency.json");
}

}  // namespace bellhole::wire
