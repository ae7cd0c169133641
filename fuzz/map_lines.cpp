// Lines as hostile maps draw them: whatever they look like, import answers a network whose columns
// fit together, or trouble. The bytes are read as small steps, so that ends meet, nearly meet,
// cross and repeat.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "maps/build.hpp"
#include "network/check.hpp"
#include "wire/network_file.hpp"

namespace {

using namespace bellhole;

const char* const mapping_text =
    R"({"document": "bellhole.mapping", "version": 1, "snap_tolerance": "0.5m", "join_crossings": true,
"most_not_snapping": "100%", "tiers": [{"id": "a"}, {"id": "b"}],
"layers": {"mains": [{"layer": "m", "fields": {"id": "ID", "tier": "T", "length": {"column": "L", "unit": "m"}}}],
"regulators": [{"layer": "p", "fields": {"inlet_tier": {"value": "a"}, "outlet_tier": {"value": "b"}}}],
"valves": [{"layer": "p"}], "features": [{"layer": "p"}]}})";

class Bytes {
 public:
  Bytes(const std::uint8_t* data, std::size_t size) : data_(data), size_(size) {}
  [[nodiscard]] bool more() const { return at_ < size_; }
  std::uint8_t next() { return at_ < size_ ? data_[at_++] : std::uint8_t{0}; }
  /// Half-metre steps with a little play, now and then something absurd.
  double coordinate() {
    const auto b = next();
    if (b == 255) return 1e8 * next();
    return 0.5 * (b & 31) + 0.17 * (b >> 5);
  }

 private:
  const std::uint8_t* data_;
  std::size_t size_, at_ = 0;
};

maps::RawFeature feature(Bytes& bytes, std::int64_t fid) {
  maps::RawFeature out;
  out.fid = fid;
  const auto head = bytes.next();
  out.shape = head % 11 == 0 ? maps::Shape::other : maps::Shape::line;
  out.broken = head % 13 == 0;
  const int parts = head % 17 == 0 ? 0 : 1 + (head & 1);
  for (int p = 0; p < parts; ++p) {
    maps::Line line;
    for (int k = 1 + bytes.next() % 4; k > 0; --k)
      line.push_back({bytes.coordinate(), bytes.coordinate()});
    out.parts.push_back(std::move(line));
  }
  const auto text = bytes.next();
  out.cells = {text % 5 == 0 ? maps::Cell() : maps::Cell(std::to_string(text % 7)),
               text % 2 == 0 ? maps::Cell("a") : maps::Cell("b"),
               text % 3 == 0 ? maps::Cell(std::to_string(text)) : maps::Cell()};
  return out;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const maps::Mapping mapping = *maps::read_mapping(mapping_text, "fuzz");
  Bytes bytes(data, size);
  maps::RawLayer mains{.name = "m", .columns = {"ID", "T", "L"}}, points{.name = "p"};
  while (bytes.more() && mains.features.size() < 60) {
    mains.features.push_back(feature(bytes, static_cast<std::int64_t>(mains.features.size())));
    if (bytes.next() % 3 != 0) continue;
    maps::RawFeature point;
    point.fid = static_cast<std::int64_t>(points.features.size());
    point.shape = maps::Shape::point;
    point.parts = {{{bytes.coordinate(), bytes.coordinate()}}};
    points.features.push_back(std::move(point));
  }
  const maps::Layers layers{{"mains", {&mains}},
                            {"regulators", {&points}},
                            {"valves", {&points}},
                            {"features", {&points}}};
  const std::vector<std::string> accept;
  const maps::Input input{mapping,
                          layers,
                          "EPSG:32630",
                          "fuzz",
                          [](std::vector<maps::XY>& places) -> Result<bool> {
                            for (auto& place : places) place = {0.0, 0.0};
                            return true;
                          },
                          accept};
  maps::Report report;
  const auto network = maps::build_network(input, report);
  if (!network) return network.error().fix.empty() ? (std::abort(), 0) : 0;
  const auto fits = network::check_columns(*network);
  const auto again = wire::read_network(wire::write_network(*network), "fuzz");
  if (!fits || !again) std::abort();
  for (const Finding& finding : network::check(*network, units::System::us)) {
    if (finding.rule == "network.line_end" || finding.rule == "network.zero_length" ||
        finding.rule == "network.station_beyond")
      std::abort();
  }
  return 0;
}
