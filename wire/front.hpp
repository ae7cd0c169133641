// The front of an emergency as documents.
#pragma once

#include <functional>
#include <nlohmann/json_fwd.hpp>

#include "plan/plan.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// A shut-off as plans write it.
using ShutoffOf = std::function<Json(const plan::Shutoff&)>;

/// `front` (empty for planned work) and `front_proof` (null then).
void put_front(Json& reply, const plan::Question& question, const plan::Answer& answer,
               const ShutoffOf& shutoff_of);

}  // namespace bellhole::wire
