// Who is to be relit, from the question of time to the list of meters.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "ask/ask.hpp"
#include "tests/scenario/drawing.hpp"
#include "wire/network_file.hpp"

namespace bellhole::scenario {
namespace {

using Json = nlohmann::json;

/// A district that feeds a street at 7 inches of water.
Drawing street() {
  return Drawing(R"(
A-4->--4--c--B--4--c--c--C
)")
      .tier("A", "district", "60psig", "20psig")
      .tier("B", "low", "14inWC", "5.5inWC")
      .feed("A", "40psig")
      .regulator("R1", "7inWC")
      .customers("60scfh");
}

class Asker {
 public:
  explicit Asker(const network::Network& network) {
    hash_ = *library_.load("network", wire::write_network(network), "town");
  }

  Json ask(Json request) {
    request["network"] = hash_;
    Unwatched watch;
    OneLane lanes;
    return Json::parse(ask::ask(request.dump(), {library_, watch, lanes}).document);
  }

 private:
  ask::Library library_;
  std::string hash_;
};

std::set<std::string> ids(const Json& list) {
  std::set<std::string> found;
  for (const Json& item : list) found.insert(item.at("id").get<std::string>());
  return found;
}

TEST(ADipOfFortySeconds, ListsEverybodyBehindALowPressureStation) {
  const Drawing town = street();
  Asker asker(town.network());
  const Json dip = asker.ask({{"question", "time-left"}, {"close", {"R1"}}, {"horizon", "40s"}});
  ASSERT_FALSE(dip.contains("trouble")) << dip;
  const Json lists = asker.ask({{"question", "relight"}, {"time_left", dip}, {"technicians", 1}});
  ASSERT_FALSE(lists.contains("trouble")) << lists;
  EXPECT_EQ(lists.at("affected"), 3);
  EXPECT_EQ(ids(lists.at("visits")), (std::set<std::string>{"C1", "C2", "C3"}));
  for (const Json& visit : lists.at("visits")) EXPECT_EQ(visit.at("cause"), "dipped");
}

TEST(ADipOfFortySeconds, ListsACustomerWhoseLoadIsNotOnRecord) {
  network::Network town = street().network();
  town.customers.base[1] = StdFlow::from_si(std::nan(""));
  town.customers.per_k[1] = std::nan("");
  town.customers.shape[1] = network::none;
  Asker asker(town);
  const Json dip = asker.ask({{"question", "time-left"}, {"close", {"R1"}}, {"horizon", "40s"}});
  const Json lists = asker.ask({{"question", "relight"}, {"time_left", dip}});
  EXPECT_EQ(ids(lists.at("visits")), (std::set<std::string>{"C1", "C2", "C3"}))
      << "his pilot flame goes out like everybody's";
}

TEST(ADipOfFortySeconds, IsNoOutageWhereTheMainsHoldGas) {
  Drawing town = street();
  town.tier("B", "medium", "60psig", "5psig").regulator("R1", "35psig");
  Asker asker(town.network());
  const Json dip = asker.ask({{"question", "time-left"}, {"close", {"R1"}}, {"horizon", "4s"}});
  const Json lists = asker.ask({{"question", "relight"}, {"time_left", dip}});
  ASSERT_FALSE(lists.contains("trouble")) << lists;
  EXPECT_EQ(lists.at("affected"), 0) << dip.at("says");
}

}  // namespace
}  // namespace bellhole::scenario
