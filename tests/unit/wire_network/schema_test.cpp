// The schema names the columns that the reader reads, table by table, and no others.
#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "wire/json.hpp"
#include "wire/network_shape.hpp"

namespace bellhole::wire {
namespace {

/// A door that only notes what is described.
class Names {
 public:
  std::map<std::string, std::set<std::string>> tables;
  std::set<std::string> top;

  template <class... Values>
  void head(std::string_view key, Values&...) {
    top.insert(std::string(key) + suffix<Values...>());
  }
  template <class Columns>
  void table(std::string_view name, std::vector<std::string>&, const Columns& columns) {
    rows(name, "id", columns);
  }
  template <class Columns>
  void rows(std::string_view name, std::string_view counted, const Columns& columns) {
    top.insert(std::string(name));
    current_ = &tables[std::string(name)];
    current_->insert(std::string(counted));
    columns();
  }
  template <class Kind>
  void quantity(std::string_view key, std::vector<Quantity<Kind>>&, Need, Bounds) {
    current_->insert(std::string(key) + std::string(Kind::suffix));
  }
  void number(std::string_view key, std::vector<double>&, Need, Bounds) {
    current_->insert(std::string(key));
  }
  template <class... Rest>
  void reference(std::string_view key, Rest&&...) {
    current_->insert(std::string(key));
  }
  template <class... Rest>
  void text(std::string_view key, Rest&&...) {
    current_->insert(std::string(key));
  }
  template <class... Rest>
  void word(std::string_view key, Rest&&...) {
    current_->insert(std::string(key));
  }
  template <class... Rest>
  void year(std::string_view key, Rest&&...) {
    current_->insert(std::string(key));
  }
  template <class... Rest>
  void ternary(std::string_view key, Rest&&...) {
    current_->insert(std::string(key));
  }
  template <class... Rest>
  void flag(std::string_view key, Rest&&...) {
    current_->insert(std::string(key));
  }
  template <class... Rest>
  void day(std::string_view key, Rest&&...) {
    current_->insert(std::string(key));
  }
  template <class... Rest>
  void lines(std::string_view key, Rest&&...) {
    current_->insert(std::string(key));
  }

 private:
  template <class... Values>
  static std::string suffix() {
    if constexpr (sizeof...(Values) == 1) {
      using Value = std::tuple_element_t<0, std::tuple<Values...>>;
      if constexpr (requires { typename Value::kind; }) return std::string(Value::kind::suffix);
    }
    return "";
  }
  std::set<std::string>* current_ = nullptr;
};

std::set<std::string> keys(const nlohmann::json& object) {
  std::set<std::string> out;
  for (const auto& [key, value] : object.items()) out.insert(key);
  return out;
}

TEST(NetworkSchema, NamesTheColumnsThatAreRead) {
  const auto schema = nlohmann::json::parse(
      std::ifstream(std::string(BELLHOLE_SOURCE_DIR) + "/schema/network.schema.json"));
  Names names;
  network::Network net;
  describe(names, net);
  names.top.insert({"document", "version"});
  EXPECT_EQ(keys(schema["properties"]), names.top);
  for (const auto& [table, columns] : names.tables)
    EXPECT_EQ(keys(schema["properties"][table]["properties"]), columns) << table;
}

}  // namespace
}  // namespace bellhole::wire
