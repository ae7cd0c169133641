// Order documents: what their reader takes and what it refuses, with the place named.
#include "wire/order.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "wire/json.hpp"

namespace bellhole::wire {
namespace {

Json small() {
  return Json::parse(
      R"({"document": "bellhole.order", "version": 1, "id": "ours", "kind": "planned",
    "blocks": [{"for_each": "shutoff", "steps": [
      {"id": "shut", "kind": "shut", "does": "Squeeze {letter}.", "role": "crew", "place": "{where}",
       "if_not": "Stop.", "report_to": "lead", "gauges": ["own"], "read": "5min"}]}]})");
}

Json& item(Json& order) { return order["blocks"][0]["steps"][0]; }

Trouble refused(const Json& order) {
  const auto read = read_order(order.dump(), "ours.json");
  return read ? Trouble{} : read.error();
}

TEST(Order, ReadsWhatItSays) {
  const auto order = read_order(small().dump(), "ours.json");
  ASSERT_TRUE(order.has_value()) << order.error().where << order.error().value;
  const plan::OrderItem& shut = order->blocks.front().items.front();
  EXPECT_EQ(shut.kind, plan::StepKind::shut);
  EXPECT_EQ(shut.how_often.every->si(), 300.0);
  EXPECT_EQ(order->first, plan::First::least_harm);
}

TEST(Order, BothBaseOrdersCanBeRead) {
  for (const plan::Kind kind : {plan::Kind::planned, plan::Kind::emergency}) {
    const auto order = built_in_order(kind);
    ASSERT_TRUE(order.has_value()) << order.error().where << ": " << order.error().value;
    EXPECT_EQ(order->kind, kind);
  }
}

TEST(Order, AnInstructionCanBeReadAloudInOneBreath) {
  for (const plan::Kind kind : {plan::Kind::planned, plan::Kind::emergency}) {
    const plan::Order order = *built_in_order(kind);
    for (const plan::OrderBlock& block : order.blocks) {
      for (const plan::OrderItem& one : block.items) {
        std::istringstream words(one.does);
        std::string word;
        int count = 0;
        while (words >> word) ++count;
        EXPECT_LE(count, 12) << one.does;
      }
    }
  }
}

TEST(Order, RefusesWithThePlaceNamed) {
  Json order = small();
  item(order)["kind"] = "squeezing";
  EXPECT_EQ(refused(order).code, Code::unreadable_value);
  EXPECT_NE(refused(order).where.find("blocks[0].steps[0].kind"), std::string::npos)
      << refused(order).where;

  order = small();
  item(order)["does"] = "Squeeze {leter}.";
  EXPECT_EQ(refused(order).code, Code::unknown_element);

  order = small();
  item(order)["after"] = {"ready"};
  EXPECT_EQ(refused(order).code, Code::unknown_element);

  order = small();
  order["blocks"][0]["steps"].push_back(item(order));
  EXPECT_EQ(refused(order).code, Code::contradiction);

  order = small();
  order["blocks"][0]["for_each"] = "job";
  item(order)["does"] = "Squeeze.";
  item(order)["place"] = "there";
  item(order)["when"] = {"squeeze"};
  EXPECT_EQ(refused(order).code, Code::contradiction);

  order = small();
  item(order)["colour"] = "red";
  EXPECT_EQ(refused(order).code, Code::unreadable_document);

  order = small();
  item(order).erase("if_not");
  EXPECT_EQ(refused(order).code, Code::missing_value);

  order = small();
  item(order)["read"] = "0s";
  EXPECT_EQ(refused(order).code, Code::out_of_range);

  order = small();
  item(order)["names"] = 3;
  EXPECT_EQ(refused(order).code, Code::out_of_range);

  order = small();
  order["version"] = 2;
  EXPECT_EQ(refused(order).code, Code::unreadable_document);

  order = small();
  order["blocks"] = Json::array();
  EXPECT_EQ(refused(order).code, Code::missing_value);
}

TEST(Order, TwoFormsOfOneStepMustExcludeEachOther) {
  Json order = small();
  item(order)["when"] = {"squeeze"};
  Json other = item(order);
  other["when"] = {"valve"};
  order["blocks"][0]["steps"].push_back(other);
  EXPECT_TRUE(read_order(order.dump(), "ours.json").has_value());
  order["blocks"][0]["steps"][1]["when"] = {"squeeze", "two"};
  EXPECT_EQ(refused(order).code, Code::contradiction);
}

TEST(Order, TheSchemaKnowsTheSameWords) {
  const Json schema =
      Json::parse(std::ifstream(std::string(BELLHOLE_SOURCE_DIR) + "/schema/order.schema.json"));
  const Json& step = schema.at("properties")
                         .at("blocks")
                         .at("items")
                         .at("properties")
                         .at("steps")
                         .at("items")
                         .at("properties");
  std::set<std::string> kinds;
  for (std::size_t i = 0; i < plan::step_kinds; ++i)
    kinds.emplace(plan::to_string(static_cast<plan::StepKind>(i)));
  EXPECT_EQ(step.at("kind").at("enum").get<std::set<std::string>>(), kinds);
  EXPECT_EQ(step.at("when").at("items").at("enum").get<std::set<std::string>>(),
            std::set<std::string>(plan::wanted_words.begin(), plan::wanted_words.end()));
  EXPECT_EQ(step.at("tool_rows").at("items").at("enum").get<std::set<std::string>>(),
            std::set<std::string>(squeeze::stage_words.begin(), squeeze::stage_words.end()));
}

TEST(Order, EveryKindOfStepHasItsWord) {
  for (std::size_t i = 0; i < plan::step_kinds; ++i) {
    const auto kind = static_cast<plan::StepKind>(i);
    EXPECT_EQ(plan::step_kind_from(plan::to_string(kind)), kind);
  }
  EXPECT_FALSE(plan::step_kind_from("squeezing").has_value());
}

}  // namespace
}  // namespace bellhole::wire
