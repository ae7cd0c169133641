// A reply document as a sheet reads it. The first thing that is not as the contract says is kept as
// the trouble, and reading goes on with "not known": a sheet asks for forty things, and one check
// at the end says whether they were all readable.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "findings/trouble.hpp"
#include "wire/json.hpp"

namespace bellhole::sheets {

/// Where the first trouble is kept. Reading through one Faults is reading one document.
class Faults {
 public:
  void note(std::string where, std::string value, std::string fix,
            Code code = Code::unreadable_document);
  [[nodiscard]] const std::optional<Trouble>& first() const { return first_; }

 private:
  std::optional<Trouble> first_;
};

class Reply {
 public:
  Reply(const wire::Json& json, std::string where, Faults& faults);

  /// An object is there under this key (or this one is an object at all).
  [[nodiscard]] bool has(std::string_view key) const;
  [[nodiscard]] explicit operator bool() const;

  // Optional readers: missing and null read as nothing; another kind is noted as trouble and reads
  // as nothing.
  [[nodiscard]] std::string text(std::string_view key) const;  ///< "" when nothing
  [[nodiscard]] std::optional<double> number(std::string_view key) const;
  [[nodiscard]] std::optional<bool> flag(std::string_view key) const;
  [[nodiscard]] Reply at(std::string_view key) const;
  [[nodiscard]] std::vector<Reply> list(std::string_view key) const;
  [[nodiscard]] std::vector<std::string> texts(std::string_view key) const;
  [[nodiscard]] std::vector<double> numbers(std::string_view key) const;
  [[nodiscard]] std::vector<std::pair<double, double>> pairs(std::string_view key) const;

  // The same, and a missing value is trouble.
  [[nodiscard]] std::string need_text(std::string_view key) const;
  [[nodiscard]] Reply need(std::string_view key) const;
  [[nodiscard]] std::vector<Reply> need_list(std::string_view key) const;

  [[nodiscard]] const wire::Json& json() const { return *json_; }
  [[nodiscard]] std::string path(std::string_view key) const;
  [[nodiscard]] Faults& faults() const { return *faults_; }

 private:
  [[nodiscard]] const wire::Json* find(std::string_view key) const;
  void wrong(std::string_view key, std::string_view wanted) const;
  const wire::Json* json_;
  std::string where_;
  Faults* faults_;
};

}  // namespace bellhole::sheets
