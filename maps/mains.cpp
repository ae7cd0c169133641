#include "maps/mains.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "maps/facts.hpp"
#include "maps/lines.hpp"

namespace bellhole::maps {
namespace {

class MainReader {
 public:
  MainReader(const Mapping& mapping, Report& report)
      : mapping_(mapping), report_(report), facts_(mapping, report) {}

  void read(Cells& cells, const std::string& layer) {
    for (const RawFeature* feature : cells.taken()) {
      cells.at(*feature);
      cells.about("pipe " + cells.label());
      if (!feature->heights.empty()) ++heights_;
      const auto lines = clean_lines(*feature, mapping_.snap.si(), cells);
      if (lines.empty()) continue;
      add(cells, layer, lines);
    }
    say_heights(layer);
  }
  std::vector<Main> done() {
    facts_.finish();
    say_measured();
    return std::move(mains_);
  }

 private:
  void add(Cells& cells, const std::string& layer, const std::vector<Line>& lines) {
    Main main;
    main.layer = layer;
    main.label = cells.label();
    std::string id = cells.text("id").value_or("");
    if (id.empty()) {
      id = fmt::format("{}-{}", layer, cells.label().substr(4));
      cells.about("pipe " + id);
      cells.say("import.missing_id", Grade::warn, "id", "",
                fmt::format("named {} after its row", id));
    }
    main.name = id;
    main.tier = tier(cells);
    std::vector<Main> parts;
    for (std::size_t i = 0; i < lines.size(); ++i) {
      Main part = main;
      part.id = lines.size() == 1 ? id : fmt::format("{}:{}", id, i + 1);
      part.line = lines[i];
      if (settle(part, cells)) parts.push_back(std::move(part));
    }
    if (parts.empty()) return;
    cells.about("pipe " + (lines.size() == 1 ? parts[0].id : id));
    fill(main, cells);
    double whole = 0.0;
    for (const Line& line : lines) whole += length(line);
    for (Main& part : parts) {
      part.recorded = lines.size() == 1 ? main.recorded : main.recorded * length(part.line) / whole;
      part.facts = main.facts;
      part.two_way = main.two_way;
      part.from_node = main.from_node;
      part.to_node = main.to_node;
      if (!std::isfinite(part.recorded)) ++measured_;
      mains_.push_back(std::move(part));
    }
  }

  void fill(Main& main, Cells& cells) {
    main.facts = facts_.read(cells);
    main.recorded = cells.quantity<kinds::Length>("length").si();
    main.two_way = cells.ternary("two_way");
    main.from_node = cells.text("from_node").value_or("");
    main.to_node = cells.text("to_node").value_or("");
    if (std::isfinite(main.recorded) && !(main.recorded > 0.0)) {
      cells.say("import.zero_length", Grade::warn, "length", fmt::format("{} m", main.recorded),
                "the length was measured along the line instead");
      main.recorded = std::numeric_limits<double>::quiet_NaN();
    }
  }

  /// Settles ids that stand twice and lines that are drawn twice. False: the main is left out.
  bool settle(Main& main, Cells& cells) {
    const auto [same_line, new_line] = drawn_.try_emplace(shape_of(main), main.id);
    const bool same_id = ids_.contains(main.id);
    cells.about("pipe " + main.id);
    if (!new_line && same_id && same_line->second == main.id) {
      cells.say("import.repeated", Grade::warn, "id", main.id,
                "the same line stands twice under this id; the second was left out");
      return false;
    }
    if (same_id) {
      const std::string id = fresh_id(main.id);
      cells.about("pipe " + id);
      cells.say("import.duplicate_id", Grade::warn, "id", main.id,
                fmt::format("stands twice; this one is called {}", id));
      main.id = id;
    }
    if (!new_line) {
      cells.say("import.drawn_twice", Grade::undecided, "geometry",
                fmt::format("on the line of {}", same_line->second),
                "both were kept: find out whether two mains lie there");
    }
    ids_.insert(main.id);
    return true;
  }
  std::string fresh_id(const std::string& id) const {
    for (int k = 2;; ++k) {
      std::string fresh = fmt::format("{}#{}", id, k);
      if (!ids_.contains(fresh)) return fresh;
    }
  }
  /// The line, whichever way it is drawn, with its tier.
  static std::vector<double> shape_of(const Main& main) {
    std::vector<double> shape{static_cast<double>(main.tier)};
    const bool turned = std::pair(main.line.back().x, main.line.back().y) <
                        std::pair(main.line.front().x, main.line.front().y);
    const auto add = [&](const XY& p) { shape.insert(shape.end(), {p.x, p.y}); };
    if (turned) {
      std::for_each(main.line.rbegin(), main.line.rend(), add);
    } else {
      std::ranges::for_each(main.line, add);
    }
    return shape;
  }

  network::Index tier(Cells& cells) {
    if (!cells.has("tier")) return 0;  // the only one: read_mapping sees to that
    const auto text = cells.text("tier");
    if (!text) {
      cells.say("import.missing_tier", Grade::undecided, "tier", "",
                "its pressure tier is unknown; it is joined to nothing");
      return network::none;
    }
    if (const auto found = mapping_.tier(*text)) return static_cast<network::Index>(*found);
    cells.say("import.unknown_code", Grade::undecided, "tier", *text,
              "the mapping has no such tier; it is joined to nothing");
    return network::none;
  }

  void say_heights(const std::string& layer) {
    if (heights_ > 0) {
      report_.add({"import.heights", Grade::info, layer, "", "geometry",
                   fmt::format("{} lines", heights_),
                   "the lines are 3-D; their heights were not used", "", false});
    }
    heights_ = 0;
  }
  void say_measured() {
    if (measured_ == 0) return;
    report_.add({"import.measured", Grade::info, "", "", "length",
                 fmt::format("{} mains", measured_),
                 "the map records no length; it was measured along the line", "", false});
  }

  const Mapping& mapping_;
  Report& report_;
  FactReader facts_;
  std::vector<Main> mains_;
  std::set<std::string, std::less<>> ids_;
  std::map<std::vector<double>, std::string> drawn_;
  std::size_t heights_ = 0, measured_ = 0;
};

}  // namespace

Result<std::vector<Main>> read_mains(const Mapping& mapping,
                                     const std::vector<const RawLayer*>& layers, Report& report) {
  MainReader reader(mapping, report);
  const auto& entries = mapping.entries("mains");
  for (std::size_t i = 0; i < entries.size(); ++i) {
    BELLHOLE_TRY(cells, Cells::of(*layers[i], entries[i], "main",
                                  fmt::format("{}: layers.mains[{}]", mapping.file, i), report));
    reader.read(cells, layers[i]->name);
  }
  return reader.done();
}

}  // namespace bellhole::maps
