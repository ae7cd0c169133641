#include "maps/export_network.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "network/words.hpp"
#include "wire/json.hpp"

namespace bellhole::maps {
namespace {

using network::Index;
using network::Network;
using network::Ternary;
using wire::Json;

std::size_t at(Index i) { return static_cast<std::size_t>(i); }

OutCell id_cell(const std::vector<std::string>& ids, Index index) {
  return index == network::none ? OutCell() : OutCell(ids[at(index)]);
}
OutCell ternary_cell(Ternary value) {
  return value == Ternary::unknown ? OutCell()
                                   : OutCell(std::string(value == Ternary::yes ? "Y" : "N"));
}
template <class E>
OutCell word_cell(E value) {
  return OutCell(std::string(network::word(value)));
}
template <class Kind>
OutCell quantity_cell(Quantity<Kind> value) {
  return number_cell(value.si());
}
Line line_of(const std::vector<std::int32_t>& first, const std::vector<double>& vx,
             const std::vector<double>& vy, std::size_t i) {
  Line line;
  for (std::int32_t v = first[i]; v < first[i + 1]; ++v) line.push_back({vx[at(v)], vy[at(v)]});
  return line;
}
Line node_place(const Network& n, Index node) {
  return {{n.nodes.x[at(node)], n.nodes.y[at(node)]}};
}

OutTable nodes(const Network& n) {
  OutTable out{.name = "node",
               .shape = Shape::point,
               .columns = {{"id"}, {"tier"}, {"elevation_m", Holds::number}}};
  for (std::size_t i = 0; i < n.nodes.size(); ++i) {
    out.rows.push_back(
        {{n.nodes.id[i], id_cell(n.tiers.id, n.nodes.tier[i]), quantity_cell(n.nodes.elevation[i])},
         {node_place(n, static_cast<Index>(i))}});
  }
  return out;
}

OutTable pipes(const Network& n) {
  const auto& p = n.pipes;
  OutTable out{.name = "pipe",
               .shape = Shape::line,
               .columns = {{"id"},
                           {"from_node"},
                           {"to_node"},
                           {"tier"},
                           {"length_m", Holds::number},
                           {"bore_m", Holds::number},
                           {"roughness_m", Holds::number},
                           {"material"},
                           {"grade"},
                           {"size"},
                           {"ratio", Holds::number},
                           {"year", Holds::whole},
                           {"inserted"},
                           {"cased"},
                           {"layered"},
                           {"lined"},
                           {"street"},
                           {"surface"},
                           {"depth_m", Holds::number}}};
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Index tier = n.nodes.tier[at(p.from[i])];
    out.rows.push_back(
        {{p.id[i], id_cell(n.nodes.id, p.from[i]), id_cell(n.nodes.id, p.to[i]),
          id_cell(n.tiers.id, tier), quantity_cell(p.length[i]), quantity_cell(p.bore[i]),
          quantity_cell(p.roughness[i]), word_cell(p.material[i]), text_cell(p.grade[i]),
          text_cell(p.nominal_size[i]), number_cell(p.ratio[i]),
          p.year[i] == 0 ? OutCell() : OutCell(std::int64_t{p.year[i]}),
          ternary_cell(p.lining[i].inserted), ternary_cell(p.lining[i].cased),
          ternary_cell(p.lining[i].layered), ternary_cell(p.lining[i].lined),
          text_cell(p.street[i]), text_cell(p.surface[i]), quantity_cell(p.depth[i])},
         {line_of(p.first, p.vx, p.vy, i)}});
  }
  return out;
}

OutTable valves(const Network& n) {
  const auto& v = n.valves;
  OutTable out{.name = "valve",
               .columns = {{"id"},
                           {"pipe"},
                           {"station_m", Holds::number},
                           {"position"},
                           {"normal"},
                           {"last_operated", Holds::number},
                           {"operable"},
                           {"reachable"}}};
  for (std::size_t i = 0; i < v.size(); ++i) {
    out.rows.push_back(
        {{v.id[i], id_cell(n.pipes.id, v.pipe[i]), quantity_cell(v.station[i]),
          word_cell(v.position[i]), word_cell(v.normal[i]), number_cell(v.last_operated_year[i]),
          ternary_cell(v.operable[i]), ternary_cell(v.reachable[i])},
         {}});
  }
  return out;
}

OutTable regulators(const Network& n) {
  const auto& r = n.regulators;
  OutTable out{.name = "regulator",
               .shape = Shape::point,
               .columns = {{"id"},
                           {"station_name"},
                           {"inlet_node"},
                           {"outlet_node"},
                           {"sensing"},
                           {"tap_pipe"},
                           {"tap_station_m", Holds::number},
                           {"set_point_pa", Holds::number},
                           {"capacity", Holds::number},
                           {"least_inlet_pa", Holds::number},
                           {"lock_up", Holds::number},
                           {"relief_pa", Holds::number},
                           {"blocks_reverse"},
                           {"needs_reset"}}};
  for (std::size_t i = 0; i < r.size(); ++i) {
    out.rows.push_back(
        {{r.id[i], text_cell(r.station_name[i]), id_cell(n.nodes.id, r.inlet[i]),
          id_cell(n.nodes.id, r.outlet[i]), word_cell(r.sensing[i]),
          id_cell(n.pipes.id, r.tap_pipe[i]), quantity_cell(r.tap_station[i]),
          quantity_cell(r.set_point[i]), quantity_cell(r.capacity[i]),
          quantity_cell(r.least_inlet[i]), number_cell(r.lock_up[i]), quantity_cell(r.relief[i]),
          ternary_cell(r.blocks_reverse[i]), ternary_cell(r.needs_reset[i])},
         {node_place(n, r.inlet[i])}});
  }
  return out;
}

OutTable sources(const Network& n) {
  OutTable out{
      .name = "source",
      .shape = Shape::point,
      .columns = {{"id"}, {"node"}, {"pressure_pa", Holds::number}, {"capacity", Holds::number}}};
  for (std::size_t i = 0; i < n.sources.size(); ++i) {
    out.rows.push_back(
        {{n.sources.id[i], id_cell(n.nodes.id, n.sources.node[i]),
          quantity_cell(n.sources.pressure[i]), quantity_cell(n.sources.capacity[i])},
         {node_place(n, n.sources.node[i])}});
  }
  return out;
}

OutTable customers(const Network& n) {
  const auto& c = n.customers;
  OutTable out{.name = "customer",
               .columns = {{"id"},
                           {"pipe"},
                           {"station_m", Holds::number},
                           {"shape"},
                           {"base", Holds::number},
                           {"slope", Holds::number},
                           {"least_pa", Holds::number},
                           {"must_not_lose"},
                           {"why_not"},
                           {"street"},
                           {"excess_flow_valve"}}};
  for (std::size_t i = 0; i < c.size(); ++i) {
    out.rows.push_back(
        {{c.id[i], id_cell(n.pipes.id, c.pipe[i]), quantity_cell(c.station[i]),
          id_cell(n.shapes.id, c.shape[i]), quantity_cell(c.base[i]), number_cell(c.per_k[i]),
          quantity_cell(c.least[i]),
          c.must_not_lose[i] != 0 ? OutCell(std::string("Y")) : OutCell(), text_cell(c.why_not[i]),
          text_cell(c.street[i]), ternary_cell(c.excess_flow_valve[i])},
         {}});
  }
  return out;
}

OutTable features(const Network& n) {
  const auto& f = n.features;
  OutTable out{.name = "feature",
               .columns = {{"id"},
                           {"kind"},
                           {"pipe"},
                           {"begin_m", Holds::number},
                           {"end_m", Holds::number},
                           {"says"}}};
  for (std::size_t i = 0; i < f.size(); ++i) {
    out.rows.push_back({{f.id[i], word_cell(f.kind[i]), id_cell(n.pipes.id, f.pipe[i]),
                         quantity_cell(f.begin[i]), quantity_cell(f.end[i]), text_cell(f.says[i])},
                        {}});
  }
  return out;
}

OutTable fixed_points(const Network& n) {
  OutTable out{.name = "fixed_point", .shape = Shape::point, .columns = {{"id"}, {"says"}}};
  for (std::size_t i = 0; i < n.fixed_points.size(); ++i) {
    out.rows.push_back({{n.fixed_points.id[i], text_cell(n.fixed_points.says[i])},
                        {{{n.fixed_points.x[i], n.fixed_points.y[i]}}}});
  }
  return out;
}

OutTable backdrop(const Network& n) {
  OutTable out{.name = "backdrop", .shape = Shape::line, .columns = {{"kind"}, {"says"}}};
  for (std::size_t i = 0; i < n.backdrop.size(); ++i) {
    out.rows.push_back({{word_cell(n.backdrop.kind[i]), text_cell(n.backdrop.says[i])},
                        {line_of(n.backdrop.first, n.backdrop.vx, n.backdrop.vy, i)}});
  }
  return out;
}

OutTable notes(const Network& n) {
  OutTable out{.name = "note", .columns = {{"rule"}, {"element"}, {"says"}, {"assumed"}}};
  for (std::size_t i = 0; i < n.notes.size(); ++i) {
    out.rows.push_back(
        {{text_cell(n.notes.rule[i]), text_cell(n.notes.element[i]), text_cell(n.notes.says[i]),
          OutCell(std::string(n.notes.assumed[i] != 0 ? "Y" : "N"))},
         {}});
  }
  return out;
}

// --- the mapping
// ----------------------------------------------------------------------------------------
Json column(const char* name) { return name; }
Json column(const char* name, const char* unit) { return {{"column", name}, {"unit", unit}}; }
Json yes_no(const char* name) { return {{"column", name}, {"codes", {{"Y", true}, {"N", false}}}}; }

Json fields(std::initializer_list<std::pair<const char*, Json>> list) {
  Json json = Json::object();
  for (const auto& [field, from] : list) json[field] = from;
  return json;
}

Json layers() {
  Json json;
  const auto entry = [&](const char* kind, const char* layer, Json which) {
    json[kind] = Json::array({{{"layer", layer}, {"fields", std::move(which)}}});
  };
  entry("nodes", "node",
        fields({{"id", column("id")},
                {"tier", column("tier")},
                {"elevation", column("elevation_m", "m")}}));
  entry("mains", "pipe",
        fields({{"id", column("id")},
                {"from_node", column("from_node")},
                {"to_node", column("to_node")},
                {"tier", column("tier")},
                {"length", column("length_m", "m")},
                {"bore", column("bore_m", "m")},
                {"roughness", column("roughness_m", "m")},
                {"material", column("material")},
                {"grade", column("grade")},
                {"size", column("size")},
                {"ratio", column("ratio")},
                {"year", column("year")},
                {"inserted", yes_no("inserted")},
                {"cased", yes_no("cased")},
                {"layered", yes_no("layered")},
                {"lined", yes_no("lined")},
                {"street", column("street")},
                {"surface", column("surface")},
                {"depth", column("depth_m", "m")}}));
  entry("valves", "valve",
        fields({{"id", column("id")},
                {"pipe", column("pipe")},
                {"station", column("station_m", "m")},
                {"position", column("position")},
                {"normal", column("normal")},
                {"last_operated", column("last_operated")},
                {"operable", yes_no("operable")},
                {"reachable", yes_no("reachable")}}));
  entry("regulators", "regulator",
        fields({{"id", column("id")},
                {"station_name", column("station_name")},
                {"inlet_node", column("inlet_node")},
                {"outlet_node", column("outlet_node")},
                {"sensing", column("sensing")},
                {"tap_pipe", column("tap_pipe")},
                {"tap_station", column("tap_station_m", "m")},
                {"set_point", column("set_point_pa", "Pa(gauge)")},
                {"capacity", column("capacity", "std m3/s")},
                {"least_inlet", column("least_inlet_pa", "Pa(gauge)")},
                {"lock_up", column("lock_up")},
                {"relief", column("relief_pa", "Pa(gauge)")},
                {"blocks_reverse", yes_no("blocks_reverse")},
                {"needs_reset", yes_no("needs_reset")}}));
  entry("sources", "source",
        fields({{"id", column("id")},
                {"node", column("node")},
                {"pressure", column("pressure_pa", "Pa(gauge)")},
                {"capacity", column("capacity", "std m3/s")}}));
  entry("customers", "customer",
        fields({{"id", column("id")},
                {"pipe", column("pipe")},
                {"station", column("station_m", "m")},
                {"shape", column("shape")},
                {"base", column("base", "std m3/s")},
                {"slope", column("slope", "std m3/s/K")},
                {"least", column("least_pa", "Pa(gauge)")},
                {"must_not_lose", yes_no("must_not_lose")},
                {"why_not", column("why_not")},
                {"street", column("street")},
                {"excess_flow_valve", yes_no("excess_flow_valve")}}));
  entry("features", "feature",
        fields({{"id", column("id")},
                {"kind", column("kind")},
                {"pipe", column("pipe")},
                {"begin", column("begin_m", "m")},
                {"end", column("end_m", "m")},
                {"says", column("says")}}));
  entry("fixed_points", "fixed_point", fields({{"id", column("id")}, {"says", column("says")}}));
  entry("backdrop", "backdrop", fields({{"kind", column("kind")}, {"says", column("says")}}));
  entry("notes", "note",
        fields({{"rule", column("rule")},
                {"element", column("element")},
                {"says", column("says")},
                {"assumed", yes_no("assumed")}}));
  return json;
}

Json tiers(const Network& n) {
  Json list = Json::array();
  for (std::size_t i = 0; i < n.tiers.size(); ++i) {
    Json tier{{"id", n.tiers.id[i]}};
    wire::put(tier, "maop", n.tiers.maop[i]);
    wire::put(tier, "least", n.tiers.least[i]);
    list.push_back(std::move(tier));
  }
  return list;
}
Json shapes(const Network& n) {
  Json list = Json::array();
  for (std::size_t i = 0; i < n.shapes.size(); ++i) {
    Json shape{{"id", n.shapes.id[i]},
               {"low", n.shapes.low[i]},
               {"high", n.shapes.high[i]},
               {"hour_factor", n.shapes.hour_factor[i]}};
    wire::put(shape, "reference", n.shapes.reference[i]);
    list.push_back(std::move(shape));
  }
  return list;
}

}  // namespace

std::vector<OutTable> network_tables(const Network& n) {
  return {nodes(n),     pipes(n),    valves(n),       regulators(n), sources(n),
          customers(n), features(n), fixed_points(n), backdrop(n),   notes(n)};
}

std::string network_mapping(const Network& n) {
  Json json;
  json["document"] = "bellhole.mapping";
  json["version"] = 1;
  json["already_imported"] = true;
  json["name"] = n.name;
  json["imported_from"] = n.imported_from;
  json["map_date"] = n.map_date;
  json["crs"] = n.crs;
  wire::put(json["base"], "pressure", n.base_pressure);
  wire::put(json["base"], "temperature", n.base_temperature);
  wire::put(json, "barometer", n.barometer);
  wire::put(json, "datum_altitude", n.datum_altitude);
  json["snap_tolerance"] = "1mm";
  json["tiers"] = tiers(n);
  json["shapes"] = shapes(n);
  json["layers"] = layers();
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace bellhole::maps
