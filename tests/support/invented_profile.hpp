// Profiles of a few invented rows, for tests.
#pragma once

#include <cmath>
#include <initializer_list>

#include "procedure/profile.hpp"

namespace bellhole::support {

struct InventedRow {
  const char* rule;
  procedure::Value value;
  const char* unit = "";
};

/// These rows over `base`. A number that is not finite is left out: no limit is set.
inline procedure::Profile invented(std::initializer_list<InventedRow> rows,
                                   const procedure::Profile* base = nullptr,
                                   Grade grade = Grade::warn) {
  procedure::ProfileDraft draft;
  draft.id = "test";
  draft.title = "test";
  for (const InventedRow& row : rows) {
    const double* number = std::get_if<double>(&row.value);
    if (number != nullptr && !std::isfinite(*number)) continue;
    procedure::RowDraft one;
    one.rule = row.rule;
    one.value = row.value;
    one.unit = row.unit;
    one.grade = grade;
    one.source = "invented for a test";
    one.evidence = Evidence::company;
    draft.rows.push_back(one);
  }
  return *procedure::compose(draft, base);
}

}  // namespace bellhole::support
