#include "network/stand_in.hpp"

namespace bellhole::network {

Index stand_in(Customers& customers, Index pipe, Length station) {
  customers.id.emplace_back("opening");
  customers.pipe.push_back(pipe);
  customers.station.push_back(station);
  customers.shape.push_back(none);
  customers.base.emplace_back();
  customers.per_k.push_back(0.0);
  customers.least.push_back(hardly_any);
  customers.must_not_lose.push_back(0);
  customers.why_not.emplace_back();
  customers.street.emplace_back();
  customers.excess_flow_valve.push_back(Ternary::no);
  return static_cast<Index>(customers.size()) - 1;
}

}  // namespace bellhole::network
