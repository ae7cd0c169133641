#include "pipe/materials.hpp"

#include <gtest/gtest.h>

namespace bellhole::pipe {
namespace {

TEST(Materials, AreReadAsPrinted) {
  for (const char* text : {"PE4710", "PE 4710", "pe-4710", "Pe_4710"}) {
    const auto material = read_material(text, "--material");
    ASSERT_TRUE(material) << text;
    EXPECT_EQ((*material)->name, "PE4710");
  }
}

TEST(Materials, UnknownCodesNameTheNearest) {
  const auto refusal = [](std::string_view text) {
    return read_material(text, "--material").error();
  };
  EXPECT_EQ(refusal("PE4720").code, Code::unknown_material);
  EXPECT_NE(refusal("PE4720").fix.find("PE4710"), std::string::npos);
  EXPECT_NE(refusal("PE1000").fix.find("PE100"), std::string::npos);
  EXPECT_EQ(refusal("").code, Code::unknown_material);
  EXPECT_EQ(refusal("steel").code, Code::unknown_material);
  EXPECT_EQ(refusal("PE2406/2708").code, Code::unknown_material)
      << "a dual mark is not silently taken for one";
}

TEST(Materials, EveryStrengthNamesItsSource) {
  for (const Material& material : materials()) {
    for (const auto& strength : {material.hdb_73, material.hdb_140, material.mrs}) {
      if (!strength) continue;
      EXPECT_FALSE(strength->source.empty()) << material.name;
      EXPECT_GT(strength->value.si(), 1e6);
    }
    if (material.hdb_140) {
      EXPECT_LT(material.hdb_140->value, material.hdb_73->value);
    }
  }
}

}  // namespace
}  // namespace bellhole::pipe
