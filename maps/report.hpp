// The found-on-import report: one row for each repair, assumption or doubt. Nothing is dropped or
// invented without a row here; the rows travel into the network as its notes.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"

namespace bellhole::maps {

/// One thing found on import.
struct Row {
  std::string rule;  ///< "import.snapped"; docs/handbook/maps.md explains each
  Grade grade = Grade::info;
  std::string layer;  ///< of the map
  std::string
      feature;        ///< id of the map's feature as the map has it, or "row 17" where it has none
  std::string field;  ///< column, or "geometry"
  std::string value;  ///< as the map has it
  std::string done;   ///< what was done, in one sentence
  std::string element;  ///< element of the network that it touches: "pipe M-12"; "" for all or none
  bool assumed = false;  ///< a value was taken for granted
};

class Report {
 public:
  void add(Row row) { rows_.push_back(std::move(row)); }
  [[nodiscard]] const std::vector<Row>& rows() const { return rows_; }
  [[nodiscard]] std::size_t count(std::string_view rule) const;
  [[nodiscard]] bool has_halt() const;
  [[nodiscard]] Verdict verdict() const;

  /// Turns the halts of `rule` into undecided rows that say who let them pass. Answers how many
  /// there were.
  std::size_t accept(std::string_view rule);

  /// Worst first, then by rule, layer and feature; rows that are equal in all of these keep their
  /// order.
  void sort();

 private:
  std::vector<Row> rows_;
};

/// What was read and what became of it, for the head of the report.
struct Summary {
  std::string map, mapping;  ///< file names without folders
  std::string network_hash;  ///< "" when no network was written
  std::string crs;
  std::size_t nodes = 0, pipes = 0, valves = 0, regulators = 0, sources = 0, customers = 0,
              features = 0;
  double length_m = 0.0;  ///< of all pipes
};

/// The report as a table for a terminal; of each rule at most `most_rows` rows are shown and the
/// rest counted.
std::string report_text(const Report& report, const Summary& summary, std::size_t most_rows);

/// The report as a JSON document: every row.
std::string report_json(const Report& report, const Summary& summary);

}  // namespace bellhole::maps
