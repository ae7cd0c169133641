// Reading and writing documents. The only place, with the rest of wire/, that knows JSON.
//
// A quantity's key ends in the suffix of its kind, which comes from the C++ type: put(doc,
// "stop_gap", gap) writes "stop_gap_m". A request may give the same quantity as typed text under
// the bare key
// ("stop_gap": "1.098in"); both at once are a contradiction. Numbers are finite; unknown is null.
#pragma once

#include <initializer_list>
#include <map>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "units/quantity.hpp"

namespace bellhole::wire {

using Json = nlohmann::json;  // keys sorted, so the same content is the same bytes

/// Stands before every parse: a document over the cap is refused before memory is spent on it.
struct Cap {
  std::size_t bytes = 8u << 20;
  std::size_t depth = 32;
};
inline constexpr Cap network_cap{std::size_t{1} << 30, 16};
inline constexpr Cap plan_cap{std::size_t{256} << 20, 32};  ///< a plan carries its map and sheets

/// Parses UTF-8 JSON. `where` names the file or the door. Errors: too_large, unreadable_document
/// (with the byte at which reading stopped).
Result<Json> parse_json(std::string_view bytes, std::string_view where, Cap cap = {});

/// An object of a document as its reader sees it: every key is asked for by name and kind, trouble
/// names the whole path, assumptions are noted, and done() refuses keys that nobody asked for.
class Object {
 public:
  /// Errors: unreadable_document when `json` is not an object. `json` and `assumed` must outlive
  /// this.
  static Result<Object> of(const Json& json, std::string where, std::vector<std::string>* assumed);

  [[nodiscard]] bool has(std::string_view key) const;  ///< present and not null
  [[nodiscard]] const std::string& where() const { return where_; }
  [[nodiscard]] std::string at(std::string_view key) const;  ///< path of a key, for trouble
  [[nodiscard]] const Json& json() const { return *json_; }
  [[nodiscard]] std::vector<std::string>* assumed() const { return assumed_; }

  // Optional readers: nothing where the key is missing or null; trouble where it is of another
  // kind.
  [[nodiscard]] Result<std::optional<std::string>> text(std::string_view key) const;
  [[nodiscard]] Result<std::optional<double>> number(std::string_view key) const;
  [[nodiscard]] Result<std::optional<std::int64_t>> whole(std::string_view key) const;
  [[nodiscard]] Result<std::optional<bool>> flag(std::string_view key) const;
  [[nodiscard]] Result<std::optional<Object>> object(std::string_view key) const;
  [[nodiscard]] Result<std::vector<Object>> objects(
      std::string_view key) const;  ///< empty when missing
  [[nodiscard]] Result<std::vector<std::string>> texts(
      std::string_view key) const;  ///< empty when missing
  template <class Kind>
  [[nodiscard]] Result<std::optional<Quantity<Kind>>> quantity(std::string_view key) const;
  /// A pair [low, high] under key + suffix, or text "low:high" under the key.
  template <class Kind>
  [[nodiscard]] Result<std::optional<std::pair<Quantity<Kind>, Quantity<Kind>>>> range(
      std::string_view key) const;

  // The same, but missing_value when absent; `fix` says what to give.
  [[nodiscard]] Result<std::string> need_text(std::string_view key, std::string_view fix) const;
  template <class Kind>
  [[nodiscard]] Result<Quantity<Kind>> need(std::string_view key, std::string_view fix) const;

  /// Marks a key as known without reading it.
  void know(std::string_view key) const { asked_->insert(std::string(key)); }
  /// Errors: unreadable_document naming the first key that nothing asked for.
  [[nodiscard]] Result<bool> done() const;

 private:
  Object(const Json& json, std::string where, std::vector<std::string>* assumed);
  [[nodiscard]] const Json* find(std::string_view key) const;

  const Json* json_;
  std::string where_;
  std::vector<std::string>* assumed_;
  std::shared_ptr<std::set<std::string, std::less<>>> asked_;
};

/// "yes", "no", "unknown" and the like: one of `words`, by position. Trouble lists them all.
Result<std::size_t> one_of(const std::string& text, std::initializer_list<std::string_view> words,
                           std::string_view where);

// Writing. Not finite becomes null: a document never carries nan.
template <class Kind>
void put(Json& object, std::string_view key, Quantity<Kind> value);
template <class Kind>
void put(Json& object, std::string_view key, std::optional<Quantity<Kind>> value);
void put(Json& object, std::string_view key,
         double number);  ///< plain numbers: fractions, ratios, degrees
Json number_or_null(double number);

Json to_json(const Finding& finding);
Json to_json(const Findings& findings);
Json to_json(const Trouble& trouble);

/// Puts what every reply carries: engine, verdict, findings (worst first, otherwise in order),
/// assumed.
void put_answer(Json& reply, const Findings& findings, const std::vector<std::string>& assumed);

/// The text of a document, indented for people. Bytes that are no UTF-8 (a value echoed as it was
/// given) become U+FFFD: writing a document cannot fail.
std::string text_of(const Json& json);

/// The canonical bytes of a document (RFC 8785: sorted keys, shortest numbers as ECMAScript writes
/// them).
std::string canonical(const Json& json);

/// Lower-case hex SHA-256 (FIPS 180-4) of bytes.
std::string sha256(std::string_view bytes);

/// "bellhole 0.1.0": recorded with every result.
std::string_view engine_version();

}  // namespace bellhole::wire
