// Orders of a job: "bellhole.order", version 1. The layout is schema/order.schema.json and is
// explained in docs/handbook/steps.md.
#pragma once

#include <string_view>

#include "findings/trouble.hpp"
#include "plan/order.hpp"

namespace bellhole::wire {

/// Reads an order. `name` is the file's, for trouble. Errors: too_large, unreadable_document (what
/// the layout does not know), unreadable_value (a word that is none of its list), missing_value,
/// and those of plan::check_order; each names the item.
Result<plan::Order> read_order(std::string_view bytes, std::string_view name);

/// The base order that ships inside Bellhole for this kind of work.
Result<plan::Order> built_in_order(plan::Kind kind);

}  // namespace bellhole::wire
