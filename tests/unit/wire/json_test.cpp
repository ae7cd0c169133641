#include "wire/json.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace bellhole::wire {
namespace {

Result<Object> object_of(const Json& json, std::vector<std::string>& assumed) {
  return Object::of(json, "request", &assumed);
}

TEST(ParseJson, SaysWhereReadingStopped) {
  const auto json = parse_json(R"({"a": 1, "b": })", "plan.json");
  ASSERT_FALSE(json);
  EXPECT_EQ(json.error().code, Code::unreadable_document);
  EXPECT_NE(json.error().where.find("plan.json, byte 15"), std::string::npos) << json.error().where;
}

TEST(ParseJson, WhatIsNoDocumentIsSaidSo) {
  EXPECT_EQ(parse_json("SQLite format 3", "town.gpkg").error().code, Code::unreadable_document);
  EXPECT_EQ(parse_json("", "empty").error().code, Code::unreadable_document);
}

TEST(TextOf, ATroubleThatEchoesBytesThatAreNoUtf8IsStillADocument) {
  const Trouble trouble{Code::bad_network, "file", "psi\xff\xfe", "give a unit"};
  const auto read = parse_json(text_of(to_json(trouble)), "reply");
  ASSERT_TRUE(read);
  EXPECT_NE(read->dump().find("psi\xEF\xBF\xBD"), std::string::npos) << read->dump();
}

TEST(ParseJson, RefusesTooMuchBeforeParsing) {
  EXPECT_EQ(parse_json(std::string(100, ' '), "x", {.bytes = 10}).error().code, Code::too_large);
  EXPECT_EQ(parse_json(std::string(100, '['), "x").error().code, Code::too_large);
  EXPECT_TRUE(parse_json(R"({"text": "[[[[[[[[[["})", "x", {.bytes = 100, .depth = 2}));
}

TEST(Object, ReadsAQuantityAsSiOrAsTypedText) {
  std::vector<std::string> assumed;
  const Json si = {{"pressure_pa_gauge", 379212.0}};
  const Json typed = {{"pressure", "55psi"}};
  EXPECT_DOUBLE_EQ(object_of(si, assumed)->quantity<kinds::GaugePressure>("pressure")->value().si(),
                   379212.0);
  EXPECT_TRUE(assumed.empty());
  EXPECT_NEAR(object_of(typed, assumed)->quantity<kinds::GaugePressure>("pressure")->value().si(),
              379211.65, 0.1);
  EXPECT_EQ(assumed.size(), 1u);
}

TEST(Object, BothFormsAtOnceAreAContradiction) {
  std::vector<std::string> assumed;
  const Json both = {{"pressure_pa_gauge", 379212.0}, {"pressure", "55psi"}};
  EXPECT_EQ(object_of(both, assumed)->quantity<kinds::GaugePressure>("pressure").error().code,
            Code::contradiction);
}

TEST(Object, AFractionIsANumberOrAPercentage) {
  std::vector<std::string> assumed;
  const Json json = {{"a", 0.3}, {"b", "30%"}};
  EXPECT_DOUBLE_EQ(object_of(json, assumed)->quantity<kinds::Fraction>("a")->value().si(), 0.3);
  EXPECT_DOUBLE_EQ(object_of(json, assumed)->quantity<kinds::Fraction>("b")->value().si(), 0.3);
}

TEST(Object, AKeyThatNobodyReadsIsTrouble) {
  std::vector<std::string> assumed;
  const Json json = {{"size", "IPS 8"}, {"presure", "55psi"}};
  const auto object = object_of(json, assumed);
  ASSERT_TRUE(object->text("size"));
  const auto done = object->done();
  ASSERT_FALSE(done);
  EXPECT_EQ(done.error().where, "request.presure");
}

TEST(Object, NullIsMissingAndAWrongKindIsTrouble) {
  std::vector<std::string> assumed;
  const Json json = {{"a", nullptr}, {"b", "x"}, {"c", 1.5}};
  EXPECT_FALSE(object_of(json, assumed)->number("a")->has_value());
  EXPECT_FALSE(object_of(json, assumed)->number("b"));
  EXPECT_FALSE(object_of(json, assumed)->whole("c"));
  EXPECT_EQ(object_of(json, assumed)->need_text("z", "give z").error().code, Code::missing_value);
}

TEST(Object, ReadsRanges) {
  std::vector<std::string> assumed;
  const Json json = {{"exposed", "0in:84in"}, {"window_m", {1.0, 2.0}}, {"bad_m", {2.0, 1.0}}};
  EXPECT_NEAR(object_of(json, assumed)->range<kinds::Length>("exposed")->value().second.si(),
              84 * 0.0254, 1e-12);
  EXPECT_DOUBLE_EQ(object_of(json, assumed)->range<kinds::Length>("window")->value().first.si(),
                   1.0);
  EXPECT_FALSE(object_of(json, assumed)->range<kinds::Length>("bad"));
}

TEST(Put, WritesTheSuffixOfTheKindAndNullForUnknown) {
  Json json;
  put(json, "stop_gap", Length::from_si(0.0279));
  put(json, "least", GaugePressure::from_si(std::nan("")));
  put(json, "none", std::optional<Duration>());
  EXPECT_EQ(json.dump(), R"({"least_pa_gauge":null,"none_s":null,"stop_gap_m":0.0279})");
}

TEST(PutAnswer, SortsWorstFirstAndSaysAssumptionsOnce) {
  Json reply;
  put_answer(reply, {{.rule = "a", .grade = Grade::info}, {.rule = "b", .grade = Grade::halt}},
             {"x", "x", "y"});
  EXPECT_EQ(reply["verdict"], "halt");
  EXPECT_EQ(reply["findings"][0]["rule"], "b");
  EXPECT_EQ(reply["assumed"].size(), 2u);
}

// RFC 8785, 3.2.2.3 and appendix B.
TEST(Canonical, WritesNumbersAsEcmascriptDoes) {
  const auto text = [](double number) { return canonical(Json(number)); };
  EXPECT_EQ(text(0.0), "0");
  EXPECT_EQ(text(-0.0), "0");
  EXPECT_EQ(text(5e-324), "5e-324");
  EXPECT_EQ(text(1.7976931348623157e308), "1.7976931348623157e+308");
  EXPECT_EQ(text(9007199254740992.0), "9007199254740992");
  EXPECT_EQ(text(295147905179352830000.0), "295147905179352830000");
  EXPECT_EQ(text(9.999999999999997e22), "9.999999999999997e+22");
  EXPECT_EQ(text(1e23), "1e+23");
  EXPECT_EQ(text(1e21), "1e+21");
  EXPECT_EQ(text(999999999999999900000.0), "999999999999999900000");
  EXPECT_EQ(text(333333333.3333332), "333333333.3333332");
  EXPECT_EQ(text(0.000001), "0.000001");
  EXPECT_EQ(text(1e-7), "1e-7");
  EXPECT_EQ(text(-1.5), "-1.5");
}

TEST(Canonical, SortsKeysByUtf16) {
  // RFC 8785, 3.2.3: the sample's order of keys.
  const Json json = {{"\xE2\x82\xAC", 1},     {"\r", 2},       {"\xEF\xAC\xB3", 3}, {"1", 4},
                     {"\xF0\x9F\x98\x80", 5}, {"\xC2\x80", 6}, {"\xC3\xB6", 7}};
  EXPECT_EQ(canonical(json),
            "{\"\\r\":2,\"1\":4,\"\xC2\x80\":6,\"\xC3\xB6\":7,\"\xE2\x82\xAC\":1,"
            "\"\xF0\x9F\x98\x80\":5,\"\xEF\xAC\xB3\":3}");
}

TEST(Canonical, ReadsBackAsTheSameNumber) {
  rc::check([](double number) {
    if (!std::isfinite(number)) return;
    RC_ASSERT(Json::parse(canonical(Json(number))).get<double>() == number);
  });
}

// FIPS 180-4 example vectors (NIST, Secure Hash Standard examples).
TEST(Sha256, PublishedVectors) {
  EXPECT_EQ(sha256(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  EXPECT_EQ(sha256("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256(std::string(1000000, 'a')),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

}  // namespace
}  // namespace bellhole::wire
