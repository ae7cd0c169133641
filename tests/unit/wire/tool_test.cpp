#include "wire/tool.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include <fstream>
#include <sstream>

namespace bellhole::wire {
namespace {

std::string file(const std::string& name) {
  std::stringstream bytes;
  bytes << std::ifstream(std::string(BELLHOLE_SOURCE_DIR) + "/" + name).rdbuf();
  return bytes.str();
}

std::string document(const std::string& inside) {
  return R"({"document": "bellhole.tools", "version": 1, )" + inside + "}";
}
std::string tool(const std::string& more) {
  return document(R"("tools": [{"id": "T", "drive": "hydraulic")" +
                  (more.empty() ? more : ", " + more) + "}]");
}

Trouble refusal(const std::string& bytes) {
  const auto tools = read_tools(bytes, "tools.json", nullptr);
  EXPECT_FALSE(tools) << bytes;
  return tools ? Trouble{} : tools.error();
}

TEST(ToolDocument, ReadsTheDemoTools) {
  const auto tools =
      read_tools(file("profiles/demo-tools.json"), "demo-tools.json", nullptr).value();
  const auto t8 = tool_named(tools, "T-8", "tool").value();
  EXPECT_EQ(t8.sizes, (std::vector<std::string>{"IPS 6", "IPS 8"}));
  EXPECT_DOUBLE_EQ(t8.half_width->si(), 4.5 * 0.0254);
  EXPECT_EQ(t8.drive, squeeze::Drive::hydraulic);
  EXPECT_FALSE(t8.instructions.empty());
  // Every moment of the tool's own record has rows, and none is read under another's name.
  for (std::size_t i = 0; i < squeeze::stage_words.size(); ++i) {
    const auto stage = static_cast<squeeze::Stage>(i);
    EXPECT_NE(std::ranges::find(t8.instructions, stage, &squeeze::Instruction::stage),
              t8.instructions.end())
        << squeeze::stage_words[i];
  }
  const auto holding =
      std::ranges::find(t8.instructions, squeeze::Stage::holding, &squeeze::Instruction::stage);
  ASSERT_NE(holding, t8.instructions.end());
  EXPECT_NE(holding->says.find("locks"), std::string::npos) << holding->says;
  EXPECT_TRUE(tool_named(tools, "T-2", "tool")->travel_per_turn);
}

TEST(ToolDocument, WhatTheRecordLeavesOutStaysMissing) {
  const auto tools = read_tools(tool(""), "tools.json", nullptr).value();
  EXPECT_FALSE(tools.tools[0].ram_area);
  EXPECT_FALSE(tools.tools[0].pressure_most);
  EXPECT_TRUE(tools.tools[0].sizes.empty());
}

TEST(ToolDocument, HowManyThereAre) {
  const auto tools = read_tools(document(R"("tools": [{"id": "T", "drive": "hydraulic", "count": 2,
      "on_truck": 1, "stops": [{"id": "S", "gap": "1in", "count": 3}]}],
      "stops": [{"id": "L", "gap": "1in", "on_truck": 0}],
      "pumps": [{"id": "P", "title": "hand pump", "tools": ["T"], "count": 4}, {"id": "Q"}])"),
                                "tools.json", nullptr)
                         .value();
  EXPECT_EQ(tools.tools[0].stock.owned, 2);
  EXPECT_EQ(tools.tools[0].stock.on_truck, 1);
  EXPECT_EQ(tools.tools[0].stops[0].stock.owned, 3);
  EXPECT_FALSE(tools.tools[0].stops[0].stock.on_truck) << "not counted is not none";
  EXPECT_EQ(tools.stops[0].stock.on_truck, 0);
  ASSERT_EQ(tools.pumps.size(), 2u);
  EXPECT_EQ(tools.pumps[0].tools, std::vector<std::string>{"T"});
  EXPECT_EQ(tools.pumps[0].stock.owned, 4);
}

TEST(ToolDocument, CountsThatCannotBeAreRefused) {
  EXPECT_EQ(refusal(tool(R"("count": -1)")).code, Code::bad_tool);
  EXPECT_EQ(refusal(tool(R"("count": 1, "on_truck": 2)")).code, Code::bad_tool);
  EXPECT_FALSE(read_tools(tool(R"("count": 1.5)"), "tools.json", nullptr));
  EXPECT_EQ(refusal(document(R"("pumps": [{"id": "P"}, {"id": "P"}])")).code, Code::bad_tool);
  EXPECT_EQ(refusal(document(R"("pumps": [{"id": "P", "tools": ["X"]}])")).code, Code::bad_tool);
}

TEST(ToolDocument, NoughtIsNoValue) {
  for (const char* key :
       {"ram_area", "pump_limit", "bar_radius", "half_width", "travel_per_stroke"}) {
    const std::string unit = std::string_view(key) == "ram_area"     ? "in2"
                             : std::string_view(key) == "pump_limit" ? "psig"
                                                                     : "in";
    const Trouble t = refusal(tool("\"" + std::string(key) + "\": \"0" + unit + "\""));
    EXPECT_EQ(t.code, Code::bad_tool) << key;
    EXPECT_NE(t.where.find(key), std::string::npos) << t.where;
  }
}

TEST(ToolDocument, BadRecordsAreTrouble) {
  EXPECT_EQ(refusal(tool(R"("sizes": ["IPS 5"])")).code, Code::unknown_size);
  EXPECT_EQ(refusal(tool(R"("ratios": ["11"])")).code, Code::unreadable_document);
  EXPECT_EQ(refusal(tool(R"("stops": [{"id": "S"}])")).code, Code::bad_tool);
  EXPECT_EQ(
      refusal(tool(R"("stops": [{"id": "S", "gap": "1in"}, {"id": "S", "gap": "2in"}])")).code,
      Code::bad_tool);
  EXPECT_EQ(refusal(tool(R"("travel_per_stroke": "1mm", "travel_per_turn": "1mm")")).code,
            Code::contradiction);
  EXPECT_EQ(refusal(tool(R"("bar": "square")")).code, Code::unreadable_value);
  EXPECT_EQ(refusal(tool(R"("ram_aera": "5in2")")).code, Code::unreadable_document)
      << "a misspelt key does not vanish";
  EXPECT_EQ(
      refusal(
          document(R"("tools": [{"id": "T", "drive": "screw"}, {"id": "T", "drive": "screw"}])"))
          .code,
      Code::bad_tool);
  EXPECT_EQ(refusal(document(R"("tools": [{"drive": "screw"}])")).code, Code::missing_value);
}

TEST(ToolDocument, AToolIsNamedUnlessThereIsOnlyOne) {
  const auto one = read_tools(tool(""), "t", nullptr).value();
  EXPECT_EQ(tool_named(one, "", "tool")->id, "T");
  EXPECT_EQ(tool_named(one, "X", "tool").error().fix, "name one as FILE#ID: T");
  const auto many = read_tools(file("profiles/demo-tools.json"), "t", nullptr).value();
  EXPECT_EQ(tool_named(many, "", "tool").error().code, Code::bad_tool);
  EXPECT_FALSE(tool_named({}, "", "tool"));
}

TEST(StopText, IsMarkAndGap) {
  const auto stop = read_stop_text("S-8-11@1.098in", "stop").value();
  EXPECT_EQ(stop.id, "S-8-11");
  EXPECT_DOUBLE_EQ(stop.gap.si(), 1.098 * 0.0254);
  for (const char* text : {"S-8-11", "@1in", "S@", "S@1", "S@0in", "S@-1in", "S@1psi"})
    EXPECT_FALSE(read_stop_text(text, "stop")) << text;
}

}  // namespace
}  // namespace bellhole::wire
