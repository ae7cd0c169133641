#include "wire/tool.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "pipe/sizes.hpp"
#include "units/parse.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {
namespace {

using squeeze::Stop;
using squeeze::Tool;

constexpr int version = 1;
constexpr std::string_view document = "bellhole.tools";

Result<std::vector<std::string>> read_sizes(const Object& object) {
  BELLHOLE_TRY(names, object.texts("sizes"));
  std::vector<std::string> sizes;
  for (const std::string& name : names) {
    BELLHOLE_TRY(size, pipe::read_size(name, object.at("sizes")));
    sizes.push_back(size.name);
  }
  return sizes;
}

Result<std::vector<double>> read_ratios(const Object& object) {
  std::vector<double> ratios;
  const auto found = object.json().find("ratios");
  object.know("ratios");
  if (found == object.json().end() || found->is_null()) return ratios;
  if (!found->is_array())
    return trouble(Code::unreadable_document, object.at("ratios"), found->dump(),
                   "give a list of numbers");
  for (const Json& item : *found) {
    if (!item.is_number())
      return trouble(Code::unreadable_document, object.at("ratios"), item.dump(),
                     "give a list of numbers");
    ratios.push_back(item.get<double>());
  }
  return ratios;
}

/// A quantity that must be greater than nought where it is given.
template <class Kind>
Result<std::optional<Quantity<Kind>>> positive(const Object& object, std::string_view key) {
  BELLHOLE_TRY(value, object.quantity<Kind>(key));
  if (value && !(value->si() > 0.0)) {
    return trouble(
        Code::bad_tool, object.at(key), fmt::format("{:g}", value->si()),
        fmt::format("a tool has more than that: correct {}, or leave it out if it is not known",
                    key));
  }
  return value;
}

/// "count" and "on_truck". A truck cannot carry more than the company owns.
Result<squeeze::Stock> read_stock(const Object& object, std::string_view id) {
  BELLHOLE_TRY(owned, object.whole("count"));
  BELLHOLE_TRY(on_truck, object.whole("on_truck"));
  constexpr std::int64_t most = 10'000;
  for (const auto& [key, value] : {std::pair("count", owned), std::pair("on_truck", on_truck)}) {
    if (value && (*value < 0 || *value > most))
      return trouble(Code::bad_tool, object.at(key), std::to_string(*value),
                     "give how many there are, or leave it out if nobody counted");
  }
  if (owned && on_truck && *on_truck > *owned)
    return trouble(Code::bad_tool, object.at("on_truck"), std::string(id),
                   "the truck carries more than the company owns: correct one of the two");
  return squeeze::Stock{owned, on_truck};
}

Result<Stop> read_stop(const Object& object) {
  BELLHOLE_TRY(id, object.need_text("id", "give the stop the mark that is stamped on it"));
  BELLHOLE_TRY(gap, positive<kinds::Length>(object, "gap"));
  if (!gap)
    return trouble(Code::bad_tool, object.at("gap"), id,
                   "give the gap that the stop keeps, measured");
  BELLHOLE_TRY(sizes, read_sizes(object));
  BELLHOLE_TRY(ratios, read_ratios(object));
  BELLHOLE_TRY(stock, read_stock(object, id));
  const Result<bool> done = object.done();
  if (!done) return std::unexpected(done.error());
  return Stop{id, *gap, sizes, ratios, stock};
}

Result<squeeze::Pump> read_pump(const Object& object) {
  BELLHOLE_TRY(id, object.need_text("id", "give the pump the number that is on it"));
  BELLHOLE_TRY(title, object.text("title"));
  BELLHOLE_TRY(tools, object.texts("tools"));
  BELLHOLE_TRY(stock, read_stock(object, id));
  const Result<bool> done = object.done();
  if (!done) return std::unexpected(done.error());
  return squeeze::Pump{id, title.value_or(""), tools, stock};
}

template <class Thing>
Result<bool> once(const std::vector<Thing>& things, std::string_view where) {
  for (std::size_t i = 0; i < things.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (things[i].id == things[j].id) {
        return trouble(Code::bad_tool, std::string(where), things[i].id,
                       "this id stands twice: give each its own");
      }
    }
  }
  return true;
}

Result<std::vector<Stop>> read_stops(const Object& object) {
  BELLHOLE_TRY(list, object.objects("stops"));
  std::vector<Stop> stops;
  for (const Object& item : list) {
    BELLHOLE_TRY(stop, read_stop(item));
    stops.push_back(stop);
  }
  const Result<bool> unique = once(stops, object.at("stops"));
  if (!unique) return std::unexpected(unique.error());
  return stops;
}

Result<std::vector<squeeze::Instruction>> read_instructions(const Object& object) {
  std::vector<squeeze::Instruction> out;
  BELLHOLE_TRY(stages, object.object("instructions"));
  if (!stages) return out;
  for (std::size_t i = 0; i < squeeze::stage_words.size(); ++i) {
    BELLHOLE_TRY(lines, stages->texts(squeeze::stage_words[i]));
    for (const std::string& line : lines) out.push_back({static_cast<squeeze::Stage>(i), line});
  }
  const Result<bool> done = stages->done();
  if (!done) return std::unexpected(done.error());
  return out;
}

Result<bool> read_words(const Object& object, Tool& tool) {
  BELLHOLE_TRY(id, object.need_text("id", "give the tool the number that is on it"));
  BELLHOLE_TRY(title, object.text("title"));
  BELLHOLE_TRY(source, object.text("source"));
  BELLHOLE_TRY(drive, object.need_text("drive", "give hydraulic, screw or other"));
  BELLHOLE_TRY(bar, object.text("bar"));
  BELLHOLE_TRY(which, one_of(drive, {"hydraulic", "screw", "other"}, object.at("drive")));
  tool.id = id;
  tool.title = title.value_or("");
  tool.source = source.value_or("");
  tool.drive = static_cast<squeeze::Drive>(which);
  if (bar) {
    BELLHOLE_TRY(shape, one_of(*bar, {"round", "flat"}, object.at("bar")));
    tool.bar = static_cast<squeeze::Bar>(shape);
  }
  return true;
}

Result<bool> read_amounts(const Object& object, Tool& tool) {
  BELLHOLE_TRY(pressure, positive<kinds::GaugePressure>(object, "pressure_most"));
  BELLHOLE_TRY(coldest, object.quantity<kinds::Temperature>("temperature_least"));
  BELLHOLE_TRY(warmest, object.quantity<kinds::Temperature>("temperature_most"));
  BELLHOLE_TRY(ram, positive<kinds::Area>(object, "ram_area"));
  BELLHOLE_TRY(limit, positive<kinds::GaugePressure>(object, "pump_limit"));
  BELLHOLE_TRY(radius, positive<kinds::Length>(object, "bar_radius"));
  BELLHOLE_TRY(guides, positive<kinds::Length>(object, "guide_spacing"));
  BELLHOLE_TRY(half, positive<kinds::Length>(object, "half_width"));
  BELLHOLE_TRY(stroke, positive<kinds::Length>(object, "travel_per_stroke"));
  BELLHOLE_TRY(turn, positive<kinds::Length>(object, "travel_per_turn"));
  tool.pressure_most = pressure;
  tool.temperature_least = coldest;
  tool.temperature_most = warmest;
  tool.ram_area = ram;
  tool.pump_limit = limit;
  tool.bar_radius = radius;
  tool.guide_spacing = guides;
  tool.half_width = half;
  tool.travel_per_stroke = stroke;
  tool.travel_per_turn = turn;
  if (stroke && turn) {
    return trouble(Code::contradiction, object.at("travel_per_turn"), tool.id,
                   "a tool is driven by strokes or by turns: give one of the two");
  }
  return true;
}

Result<Tool> read_tool(const Object& object) {
  Tool tool;
  for (const auto& read : {read_words(object, tool), read_amounts(object, tool)}) {
    if (!read) return std::unexpected(read.error());
  }
  BELLHOLE_TRY(sizes, read_sizes(object));
  BELLHOLE_TRY(ratios, read_ratios(object));
  BELLHOLE_TRY(stops, read_stops(object));
  BELLHOLE_TRY(instructions, read_instructions(object));
  BELLHOLE_TRY(stock, read_stock(object, tool.id));
  const Result<bool> done = object.done();
  if (!done) return std::unexpected(done.error());
  tool.sizes = sizes;
  tool.ratios = ratios;
  tool.stops = stops;
  tool.instructions = instructions;
  tool.stock = stock;
  return tool;
}

/// A pump names tools of this document, or none.
Result<bool> drives(const Tools& tools) {
  for (const squeeze::Pump& pump : tools.pumps) {
    for (const std::string& id : pump.tools) {
      if (std::ranges::find(tools.tools, id, &Tool::id) == tools.tools.end())
        return trouble(Code::bad_tool, fmt::format("pumps.{}.tools", pump.id), id,
                       "name a tool of this file, or leave the list out for any hydraulic tool");
    }
  }
  return true;
}

}  // namespace

Result<Tools> read_tools(std::string_view bytes, std::string_view name,
                         std::vector<std::string>* assumed) {
  BELLHOLE_TRY(json, parse_json(bytes, name));
  BELLHOLE_TRY(object, Object::of(json, std::string(name), assumed));
  BELLHOLE_TRY(kind,
               object.need_text("document",
                                fmt::format("a tools file says \"document\": \"{}\"", document)));
  BELLHOLE_TRY(number, object.whole("version"));
  if (kind != document || number != version) {
    return trouble(Code::unreadable_document, std::string(name), kind,
                   fmt::format("give a {} of version {}", document, version));
  }
  BELLHOLE_TRY(title, object.text("title"));
  static_cast<void>(title);
  BELLHOLE_TRY(list, object.objects("tools"));
  Tools tools;
  for (const Object& item : list) {
    BELLHOLE_TRY(tool, read_tool(item));
    tools.tools.push_back(tool);
  }
  BELLHOLE_TRY(stops, read_stops(object));
  tools.stops = stops;
  BELLHOLE_TRY(pumps, object.objects("pumps"));
  for (const Object& item : pumps) {
    BELLHOLE_TRY(pump, read_pump(item));
    tools.pumps.push_back(pump);
  }
  for (const auto& read : {once(tools.tools, object.at("tools")),
                           once(tools.pumps, object.at("pumps")), drives(tools), object.done()}) {
    if (!read) return std::unexpected(read.error());
  }
  return tools;
}

Result<squeeze::Tool> tool_named(const Tools& tools, std::string_view id, std::string_view where) {
  if (id.empty() && tools.tools.size() == 1) return tools.tools.front();
  const auto found = std::ranges::find(tools.tools, id, &Tool::id);
  if (found != tools.tools.end()) return *found;
  std::string list;
  for (const Tool& tool : tools.tools) list += (list.empty() ? "" : ", ") + tool.id;
  return trouble(Code::bad_tool, std::string(where), std::string(id),
                 list.empty() ? std::string("the file lists no tools")
                              : fmt::format("name one as FILE#ID: {}", list));
}

Result<squeeze::Stop> read_stop_text(std::string_view text, std::string_view where) {
  const auto at = text.find('@');
  if (at == std::string_view::npos || at == 0) {
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   "write the stop's mark and its gap: S-8-11@1.098in");
  }
  BELLHOLE_TRY(gap, units::parse<kinds::Length>(text.substr(at + 1), where));
  if (!(gap.value.si() > 0.0))
    return trouble(Code::bad_tool, std::string(where), std::string(text), "a stop keeps some gap");
  return Stop{std::string(text.substr(0, at)), gap.value, {}, {}};
}

Json tool_json(const Tool& tool) {
  Json json;
  json["id"] = tool.id;
  json["title"] = tool.title;
  constexpr std::array drives{"hydraulic", "screw", "other"};
  json["drive"] = drives[static_cast<std::size_t>(tool.drive)];
  json["sizes"] = tool.sizes;
  json["ratios"] = tool.ratios;
  put(json, "pressure_most", tool.pressure_most);
  put(json, "temperature_least", tool.temperature_least);
  put(json, "temperature_most", tool.temperature_most);
  put(json, "ram_area", tool.ram_area);
  put(json, "pump_limit", tool.pump_limit);
  json["bar"] =
      tool.bar ? Json(*tool.bar == squeeze::Bar::round ? "round" : "flat") : Json(nullptr);
  put(json, "bar_radius", tool.bar_radius);
  put(json, "guide_spacing", tool.guide_spacing);
  put(json, "half_width", tool.half_width);
  json["counted_in"] = tool.travel_per_stroke ? Json("strokes")
                       : tool.travel_per_turn ? Json("turns")
                                              : Json(nullptr);
  put(json, "travel_per_count",
      tool.travel_per_stroke ? tool.travel_per_stroke : tool.travel_per_turn);
  put(json, "force_at_limit", squeeze::force_at_limit(tool));
  Json instructions = Json::object();
  for (const std::string_view stage : squeeze::stage_words)
    instructions[std::string(stage)] = Json::array();
  for (const auto& line : tool.instructions)
    instructions[std::string(squeeze::stage_words[static_cast<std::size_t>(line.stage)])].push_back(
        line.says);
  json["instructions"] = instructions;
  json["source"] = tool.source;
  const auto whole = [](std::optional<std::int64_t> n) { return n ? Json(*n) : Json(nullptr); };
  json["count"] = whole(tool.stock.owned);
  json["on_truck"] = whole(tool.stock.on_truck);
  return json;
}

}  // namespace bellhole::wire
