// Small maps drawn in code: layers as read, without files.
#pragma once

#include <initializer_list>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "maps/build.hpp"

namespace bellhole::test {

struct Built {
  network::Network network;
  maps::Report report;

  /// Rows of a rule as "feature field value | done".
  [[nodiscard]] std::vector<maps::Row> rows(std::string_view rule) const;
  /// The pipe of this id, or a failure of the test.
  [[nodiscard]] std::size_t pipe(std::string_view id) const;
  [[nodiscard]] bool has_pipe(std::string_view id) const;
  /// Whether the two pipes have a node in common.
  [[nodiscard]] bool joined(std::string_view a, std::string_view b) const;
};

/// A map with the layers of `mapping_text()`: main, valve, station, gate, meter, fitting.
class DrawnMap {
 public:
  DrawnMap();
  /// A main of tier "district" in the town of the tests; `cells` as COLUMN=value overrides.
  DrawnMap& main(const std::string& id, maps::Line line,
                 std::initializer_list<std::pair<std::string, std::string>> cells = {});
  DrawnMap& parts(const std::string& id, std::vector<maps::Line> lines);
  DrawnMap& valve(const std::string& id, maps::XY at,
                  std::initializer_list<std::pair<std::string, std::string>> cells = {});
  DrawnMap& station(const std::string& id, maps::XY at, const std::string& in,
                    const std::string& out);
  DrawnMap& gate(const std::string& id, maps::XY at);
  DrawnMap& meter(const std::string& id, maps::XY at,
                  std::initializer_list<std::pair<std::string, std::string>> cells = {});
  DrawnMap& fitting(const std::string& id, maps::XY at, const std::string& type,
                    const std::string& length_in = "");

  maps::RawFeature& last() { return last_layer_->features.back(); }

  /// Replaces text in the mapping before it is read.
  DrawnMap& with(std::string_view from, std::string_view to);
  std::vector<std::string> accept;

  /// Builds the network. A trouble is a failure of the test.
  [[nodiscard]] Built build() const;
  [[nodiscard]] Result<network::Network> try_build(maps::Report& report) const;

 private:
  maps::RawFeature& add(maps::RawLayer& layer, maps::Shape shape, std::vector<maps::Line> parts,
                        std::initializer_list<std::pair<std::string, std::string>> cells);
  maps::RawLayer main_, valve_, station_, gate_, meter_, fitting_;
  maps::RawLayer* last_layer_ = nullptr;
  std::string mapping_;
};

}  // namespace bellhole::test
