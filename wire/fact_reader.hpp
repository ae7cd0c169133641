// Reading the keys of a fact one after the other; the first trouble is kept and reading goes on.
// Internal to wire/.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "job/event.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Whether this version knows the kind.
bool is_kind(std::string_view kind);

class FactReader {
 public:
  explicit FactReader(const Object& object) : object_(object) {}

  std::string text(std::string_view key);  ///< "" when missing
  std::string need(std::string_view key);
  std::vector<std::string> texts(std::string_view key);
  std::optional<double> number(std::string_view key);
  template <class Kind>
  std::optional<Quantity<Kind>> quantity(std::string_view key) {
    return kept(object_.quantity<Kind>(key));
  }
  std::optional<procedure::Days> date(std::string_view key);
  std::optional<job::Moment> moment(std::string_view key);
  job::Hash hash(std::string_view key, bool needed);
  std::vector<job::Hash> hashes(std::string_view key);
  /// A word of a list as its enum; `missing` where the key is not there.
  template <class Enum>
  Enum word(std::string_view key, std::initializer_list<std::string_view> words, Enum missing) {
    const auto given = kept(object_.text(key));
    if (!given) return missing;
    return static_cast<Enum>(kept(one_of(*given, words, object_.at(key))));
  }
  template <class Enum>
  Enum need_word(std::string_view key, std::initializer_list<std::string_view> words) {
    return static_cast<Enum>(kept(one_of(need(key), words, object_.at(key))));
  }
  job::Answer answer(std::string_view key = "answer");

  /// Takes a result, or keeps its trouble.
  template <class T>
  T kept(Result<T> result) {
    if (result) return std::move(*result);
    if (!first_) first_ = std::move(result).error();
    return T{};
  }
  void wrong(Code code, std::string_view key, std::string value, std::string fix);

  [[nodiscard]] const Object& object() const { return object_; }
  /// The fact, unless something was wrong or a key was left unread.
  Result<job::Fact> done(job::AnyFact fact) const;

 private:
  const Object& object_;
  std::optional<Trouble> first_;
};

}  // namespace bellhole::wire
