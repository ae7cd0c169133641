// A fact with its stamp as a document of a reply. Internal to wire/.
#pragma once

#include <nlohmann/json.hpp>

#include "job/state.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

Json stamp_json(const job::Stamp& stamp);

Json fact_json(const job::Opened& fact);
Json fact_json(const job::Closed& fact);
Json fact_json(const job::Planned& fact);
Json fact_json(const job::PlanAccepted& fact);
Json fact_json(const job::PipeFound& fact);
Json fact_json(const job::Joined& fact);
Json fact_json(const job::Left& fact);
Json fact_json(const job::Qualified& fact);
Json fact_json(const job::Instrument& fact);
Json fact_json(const job::Kit& fact);
Json fact_json(const job::Prompt& fact);
Json fact_json(const job::StepAnswer& fact);
Json fact_json(const job::Reading& fact);
Json fact_json(const job::Bars& fact);
Json fact_json(const job::Act& fact);
Json fact_json(const job::GatePassed& fact);
Json fact_json(const job::Signed& fact);
Json fact_json(const job::HandedOver& fact);
Json fact_json(const job::Tested& fact);
Json fact_json(const job::Purged& fact);
Json fact_json(const job::Meter& fact);
Json fact_json(const job::Laid& fact);
Json fact_json(const job::ResultRecorded& fact);
Json fact_json(const job::Photo& fact);
Json fact_json(const job::Note& fact);
Json fact_json(const job::Corrected& fact);

template <class T>
Json said_json(const job::Said<T>& said) {
  Json json = fact_json(said.what);
  json["stamp"] = stamp_json(said.stamp);
  return json;
}

}  // namespace bellhole::wire
