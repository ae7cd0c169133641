// Profiles for the tests of the room: the shipped one, and rows over it.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "procedure/profile.hpp"
#include "wire/profile.hpp"

namespace bellhole::restore {

inline procedure::Profile shipped() { return *wire::built_in_profile("us"); }

inline procedure::Profile with(
    std::vector<std::pair<std::string, std::pair<procedure::Value, std::string>>> rows) {
  static const procedure::Profile base = shipped();
  procedure::ProfileDraft draft;
  draft.id = "company";
  for (auto& [rule, value] : rows) {
    procedure::RowDraft row;
    row.rule = rule;
    row.value = value.first;
    row.unit = value.second;
    row.grade = Grade::halt;
    row.source = "test";
    row.evidence = Evidence::company;
    row.approved_by = "an engineer";
    draft.rows.push_back(row);
  }
  return *procedure::compose(draft, &base);
}

}  // namespace bellhole::restore
