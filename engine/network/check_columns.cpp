#include <cstddef>
#include <string>

#include "network/check.hpp"

namespace bellhole::network {
namespace {

/// Keeps the first trouble; the calls after it do nothing.
class Columns {
 public:
  explicit Columns(const Network& network) : network_(network) {}

  void table(const char* name, std::size_t rows) {
    table_ = name;
    rows_ = rows;
  }
  template <class... Vectors>
  void lengths(const Vectors&... vectors) {
    std::size_t column = 0;
    (one_length(column++, vectors.size()), ...);
  }
  void index(const char* column, const std::vector<Index>& values, std::size_t rows,
             bool may_be_none) {
    for (std::size_t i = 0; i < values.size() && ok(); ++i) {
      const bool fits = (values[i] >= 0 && static_cast<std::size_t>(values[i]) < rows) ||
                        (may_be_none && values[i] == none);
      if (!fits)
        fail(column, std::to_string(values[i]), "row " + std::to_string(i) + " points nowhere");
    }
  }
  void lines(const std::vector<std::int32_t>& first, const std::vector<double>& vx,
             const std::vector<double>& vy) {
    if (!ok()) return;
    if (first.size() != rows_ + 1 || vx.size() != vy.size() || first.front() != 0 ||
        static_cast<std::size_t>(first.back()) != vx.size()) {
      return fail("first", std::to_string(first.size()),
                  "lines need rows + 1 starts, from 0 to the number of points");
    }
    for (std::size_t i = 0; i < rows_ && ok(); ++i) {
      if (first[i + 1] - first[i] < 2)
        fail("first", std::to_string(i), "a line has two points or more");
    }
  }
  Result<bool> result() && {
    if (trouble_.code != Code::bug) return std::unexpected(std::move(trouble_));
    return true;
  }

 private:
  [[nodiscard]] bool ok() const { return trouble_.code == Code::bug; }
  void fail(const std::string& column, std::string value, std::string fix) {
    if (ok()) {
      trouble_ = {Code::bad_network, network_.name + ": " + table_ + ", " + column,
                  std::move(value), std::move(fix)};
    }
  }
  void one_length(std::size_t column, std::size_t size) {
    if (size != rows_) {
      fail("column " + std::to_string(column), std::to_string(size) + " values",
           "all columns of a table have " + std::to_string(rows_) + " values here");
    }
  }

  const Network& network_;
  const char* table_ = "";
  std::size_t rows_ = 0;
  Trouble trouble_{};
};

void grid(Columns& c, const Network& n) {
  c.table("tiers", n.tiers.size());
  c.lengths(n.tiers.maop, n.tiers.least);
  c.table("nodes", n.nodes.size());
  c.lengths(n.nodes.x, n.nodes.y, n.nodes.lon, n.nodes.lat, n.nodes.elevation, n.nodes.tier);
  c.index("tier", n.nodes.tier, n.tiers.size(), true);
  const Pipes& p = n.pipes;
  c.table("pipes", p.size());
  c.lengths(p.from, p.to, p.length, p.bore, p.roughness, p.material, p.grade, p.nominal_size,
            p.ratio, p.year, p.lining, p.street, p.surface, p.depth);
  c.index("from", p.from, n.nodes.size(), false);
  c.index("to", p.to, n.nodes.size(), false);
  c.lines(p.first, p.vx, p.vy);
}

void equipment(Columns& c, const Network& n) {
  const Valves& v = n.valves;
  c.table("valves", v.size());
  c.lengths(v.pipe, v.station, v.position, v.normal, v.last_operated_year, v.operable, v.reachable);
  c.index("pipe", v.pipe, n.pipes.size(), false);
  const Regulators& r = n.regulators;
  c.table("regulators", r.size());
  c.lengths(r.station_name, r.inlet, r.outlet, r.sensing, r.tap_pipe, r.tap_station, r.set_point,
            r.capacity, r.least_inlet, r.lock_up, r.relief, r.blocks_reverse, r.needs_reset);
  c.index("inlet", r.inlet, n.nodes.size(), false);
  c.index("outlet", r.outlet, n.nodes.size(), false);
  c.index("tap_pipe", r.tap_pipe, n.pipes.size(), true);
  c.table("sources", n.sources.size());
  c.lengths(n.sources.node, n.sources.pressure, n.sources.capacity);
  c.index("node", n.sources.node, n.nodes.size(), false);
}

void use(Columns& c, const Network& n) {
  c.table("shapes", n.shapes.size());
  c.lengths(n.shapes.reference, n.shapes.hour_factor, n.shapes.low, n.shapes.high);
  const Customers& u = n.customers;
  c.table("customers", u.size());
  c.lengths(u.pipe, u.station, u.shape, u.base, u.per_k, u.least, u.must_not_lose, u.why_not,
            u.street, u.excess_flow_valve);
  c.index("pipe", u.pipe, n.pipes.size(), false);
  c.index("shape", u.shape, n.shapes.size(), true);
  const Features& f = n.features;
  c.table("features", f.size());
  c.lengths(f.kind, f.pipe, f.begin, f.end, f.says);
  c.index("pipe", f.pipe, n.pipes.size(), false);
  c.table("backdrop", n.backdrop.size());
  c.lengths(n.backdrop.says);
  if (n.backdrop.size() > 0) c.lines(n.backdrop.first, n.backdrop.vx, n.backdrop.vy);
  c.table("fixed_points", n.fixed_points.size());
  c.lengths(n.fixed_points.x, n.fixed_points.y, n.fixed_points.says);
  c.table("notes", n.notes.size());
  c.lengths(n.notes.element, n.notes.says, n.notes.assumed);
}

}  // namespace

Result<bool> check_columns(const Network& network) {
  Columns columns(network);
  grid(columns, network);
  equipment(columns, network);
  use(columns, network);
  return std::move(columns).result();
}

}  // namespace bellhole::network
