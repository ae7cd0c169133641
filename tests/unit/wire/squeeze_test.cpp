#include "wire/squeeze.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace bellhole::wire {
namespace {

Result<squeeze::Question> read(const Json& json) {
  std::vector<std::string> assumed;
  return read_squeeze(Object::of(json, "", &assumed).value());
}

Trouble refusal(const Json& json) {
  const auto question = read(json);
  EXPECT_FALSE(question) << json;
  return question ? Trouble{} : question.error();
}

TEST(SqueezeRequest, ReadsTypedTextAndSiNumbersAlike) {
  const auto typed = read({{"size", "IPS 8"},
                           {"dr", "11"},
                           {"wall", {"0.784in"}},
                           {"pressure", "55psi"},
                           {"pipe_temperature", "60degF"},
                           {"exposed", "0in:84in"},
                           {"features", {"joint@8in", "fitting@66:78in"}},
                           {"tool_half_width", "3in"}})
                         .value();
  const auto si = read({{"size", "IPS 8"},
                        {"sdr", 11},
                        {"wall_m", {0.0199136}},
                        {"pressure_pa_gauge", 379211.65112425986},
                        {"pipe_temperature_k", 288.7055555555555},
                        {"exposed_m", {0.0, 2.1336}},
                        {"features",
                         {{{"kind", "joint"}, {"at_m", {0.2032, 0.2032}}},
                          {{"kind", "fitting"}, {"at", "66in:78in"}}}},
                        {"tool_half_width_m", 0.0762}})
                      .value();
  EXPECT_EQ(typed.pipe.ratio, si.pipe.ratio);
  EXPECT_NEAR(typed.pipe.readings.at(0).si(), si.pipe.readings.at(0).si(), 1e-12);
  EXPECT_NEAR(typed.pipe.pressure->si(), si.pipe.pressure->si(), 1e-6);
  EXPECT_NEAR(typed.pipe.temperature->si(), si.pipe.temperature->si(), 1e-9);
  EXPECT_NEAR(typed.exposed->second.si(), si.exposed->second.si(), 1e-12);
  ASSERT_EQ(typed.features.size(), si.features.size());
  EXPECT_NEAR(typed.features[1].from.si(), si.features[1].from.si(), 1e-12);
  EXPECT_EQ(typed.pipe.pressure_unit, "psi");
  EXPECT_TRUE(si.pipe.pressure_unit.empty());
}

TEST(SqueezeRequest, WhatIsNotToldIsUnknown) {
  const auto question = read({{"size", "dn 125"}, {"material", "unknown"}}).value();
  EXPECT_EQ(question.pipe.material, nullptr);
  EXPECT_FALSE(question.pipe.ratio);
  EXPECT_FALSE(question.pipe.pressure);
  EXPECT_EQ(question.pipe.lining.inserted, pipe::Told::unknown);
  EXPECT_FALSE(question.stops);
}

TEST(SqueezeRequest, BadValuesNameTheirKey) {
  const auto with = [](const char* key, Json value) {
    return refusal({{"size", "IPS 8"}, {key, std::move(value)}});
  };
  EXPECT_EQ(refusal(Json::object()).where, "size");
  for (const auto& [key, value] :
       std::vector<std::pair<const char*, Json>>{{"dr", "eleven"},
                                                 {"wall", Json{"11"}},
                                                 {"material", "PE9999"},
                                                 {"made", "soon"},
                                                 {"year", 85},
                                                 {"inserted", "maybe"},
                                                 {"pressure", "60"},
                                                 {"pressure", "60psia"},
                                                 {"pressure", "-5psig"},
                                                 {"pipe_temperature", "-500degF"},
                                                 {"exposed", "84in:0in"},
                                                 {"exposed", "0in"},
                                                 {"features", Json{"joint"}},
                                                 {"features", Json{"@8in"}},
                                                 {"features", Json{"joint@8"}},
                                                 {"tool_half_width", "-1in"},
                                                 {"double", "yes"},
                                                 {"stop", Json{"S-8"}},
                                                 {"hdb_140", "0psi"}}) {
    EXPECT_EQ(with(key, value).where.substr(0, std::string_view(key).size()), key) << value;
  }
  EXPECT_EQ(refusal({{"size", "IPS 8"}, {"dr", 11}, {"sdr", 11}}).code, Code::contradiction);
  EXPECT_EQ(refusal({{"size", "IPS 8"}, {"wall", {"0.7in"}}, {"wall_m", {0.01}}}).code,
            Code::contradiction);
  EXPECT_EQ(refusal({{"size", "IPS 8"}, {"year", 1985}, {"made", "2001"}}).code,
            Code::contradiction);
}

TEST(SqueezeRequest, UnitsFollowThePipeUnlessAsked) {
  std::vector<std::string> assumed;
  const auto units = [&](const Json& json) {
    return read_units(Object::of(json, "", &assumed).value(),
                      read_squeeze(Object::of(json, "", &assumed).value()).value())
        .value();
  };
  EXPECT_EQ(units({{"size", "dn 125"}}), units::System::metric);
  EXPECT_EQ(units({{"size", "IPS 4"}}), units::System::us);
  EXPECT_EQ(units({{"size", "IPS 4"}, {"units", "metric"}}), units::System::metric);
}

}  // namespace
}  // namespace bellhole::wire
