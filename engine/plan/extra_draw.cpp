#include "plan/extra_draw.hpp"

namespace bellhole::plan {

std::unique_ptr<network::Network> with_draw(const network::Network& network,
                                            const ExtraDraw& draw) {
  auto with = std::make_unique<network::Network>(network);
  auto& shapes = with->shapes;
  shapes.id.push_back(draw.id);
  shapes.reference.push_back(Temperature::from_si(0.0));
  shapes.hour_factor.emplace_back();
  shapes.hour_factor.back().fill(1.0);
  shapes.low.push_back(1.0);
  shapes.high.push_back(1.0);
  auto& customers = with->customers;
  customers.id.push_back(draw.id);
  customers.pipe.push_back(draw.pipe);
  customers.station.push_back(draw.station);
  customers.shape.push_back(static_cast<network::Index>(shapes.size()) - 1);
  customers.base.push_back(draw.flow);
  customers.per_k.push_back(0.0);
  customers.least.push_back(draw.least);
  customers.must_not_lose.push_back(0);
  customers.why_not.emplace_back();
  customers.street.emplace_back();
  customers.excess_flow_valve.push_back(network::Ternary::no);
  return with;
}

}  // namespace bellhole::plan
