// Procedure profiles: the limits that a company works by, as rows of data. No expressions, no
// defaults.
//
// A profile is composed from its rows and, where it extends another, from that one's. Which row
// governs:
//   1. a row of the extending profile before one of the profile that it extends;
//   2. then the row with more conditions named, then the one whose conditions lie inside the
//   other's.
// Two rows of one profile that neither order tells apart and that could both apply are refused on
// loading. No row, or a row without a value, is never a pass: the answer is undecided, "no limit
// set: decide".
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "procedure/rules.hpp"
#include "procedure/value.hpp"
#include "procedure/when.hpp"
#include "units/quantity.hpp"

namespace bellhole::procedure {

/// A person who read the law and vouches for a value that was shipped from memory.
struct Confirmed {
  std::string text;  ///< the words of the law, or where they stand
  std::string date;
  std::string by;
};

/// A published value that is shown beside an unset limit and never passes anything.
struct Reference {
  Value value;
  std::string source;
  Evidence evidence = Evidence::from_memory;
};

/// A row as a profile document gives it, before its rule is looked up.
struct RowDraft {
  std::string rule;
  Value value;  ///< a number in `unit`, a word, yes/no, or nothing
  std::string unit;
  When when;                       ///< in SI
  Grade grade = Grade::undecided;  ///< of the finding when the limit is not kept
  std::string source;
  Evidence evidence = Evidence::from_memory;
  std::string approved_by;  ///< who answers for a value looser than that of the extended profile
  std::optional<Confirmed> confirmed;
  std::optional<Reference> reference;  ///< its value in `reference_unit`
  std::string reference_unit;
  std::string note;
};

struct Row {
  const Rule* rule = nullptr;
  Value value;  ///< SI
  When when;
  Grade grade = Grade::undecided;
  std::string source;
  Evidence evidence = Evidence::from_memory;
  std::string approved_by;
  std::optional<Confirmed> confirmed;
  std::optional<Reference> reference;
  std::string note;
  std::string place;     ///< "profile us, squeeze.hold"; with its number where its rule has several
  int layer = 0;         ///< 0: the profile that extends nothing
  bool loosens = false;  ///< looser than a row of the extended profile; approved_by answers for it
};

struct ProfileDraft {
  std::string id, title;
  std::vector<RowDraft> rows;
};

struct Ruling;

class Profile {
 public:
  [[nodiscard]] const std::string& id() const { return id_; }
  [[nodiscard]] const std::string& title() const { return title_; }
  [[nodiscard]] const std::vector<Row>& rows() const { return rows_; }

  /// The row that governs a rule in a case. REQUIRES: `rule` is an id of rules().
  [[nodiscard]] Ruling ruling(std::string_view rule, const Case& in) const;

 private:
  friend Result<Profile> compose(ProfileDraft draft, const Profile* base);
  std::string id_, title_;
  std::vector<Row> rows_;
};

/// Checks the rows of a profile and lays them over those of `base`.
/// Errors, each naming profile and row: unknown_rule; wrong_dimension, unreadable_value,
/// out_of_range (the value); ambiguous_rows; missing_value (a valued row without a source, a
/// loosening row without approved_by); not_overridable (a row that loosens law).
Result<Profile> compose(ProfileDraft draft, const Profile* base);

/// What a profile says about one rule in one case.
struct Ruling {
  const Rule* rule = nullptr;
  const Row* row = nullptr;          ///< governs; null: no row applies for certain
  std::vector<const Row*> doubtful;  ///< would govern if what is `missing` turned out so
  std::vector<std::string_view> missing;

  /// The number to reckon with, in SI: of the governing row, or the tightest of it and the doubtful
  /// ones.
  [[nodiscard]] std::optional<double> number() const;
  /// The word of a text rule.
  [[nodiscard]] std::optional<std::string> word() const;
  /// The row whose value number() is; null where there is none.
  [[nodiscard]] const Row* used() const;
  /// Law from memory that no person has confirmed yet.
  [[nodiscard]] bool unconfirmed_law() const;

  template <class Kind>
  [[nodiscard]] std::optional<Quantity<Kind>> as() const {
    const auto value = number();
    if (!value) return std::nullopt;
    return Quantity<Kind>::from_si(*value);
  }
};

/// Whether value `a` of a rule is tighter than `b`, by the rule's sense. False for choices and
/// costs.
bool tighter(const Rule& rule, double a, double b);

}  // namespace bellhole::procedure
