// The question "relight" as documents. docs: schema/relight.request.schema.json, .reply.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "linepack/watch.hpp"
#include "restore/relight.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// One row of a list of shut meters, and the line that it stands in.
struct ListedMeter {
  restore::ShutRow row;
  std::string where;
};

/// Reads a table with the columns meter, how (not yet, meter, curb, locked, relit), time and by;
/// the further columns that sheets/relight_lists.hpp writes are passed over. A line that says "not
/// yet" is not on the list; one that says nothing under how is refused, since nothing is not shut.
/// Errors: those of read_table; unreadable_value for another word under how.
Result<std::vector<ListedMeter>> read_shut_list(const std::string& text);

/// Ids of the customers who fall short in a reply of the question time-left. Errors:
/// unreadable_document, missing_value.
Result<std::vector<std::string>> read_short_customers(std::string_view bytes,
                                                      std::string_view name);

/// "rate": "0.5" or "0.4:0.6" visits per technician and hour; "revisits": "15%" or a share.
Result<std::optional<restore::Rate>> read_rate(const Object& request);
Result<std::optional<double>> read_revisits(const Object& request);
Result<std::optional<std::int64_t>> read_technicians(const Object& request);

Json band_json(const std::optional<restore::Band>& band);
std::string_view to_string(restore::Lost lost);

/// Everything of a visit and its meter.
Json visit_json(const restore::Meter& meter, const restore::Visit& visit, std::size_t position);

/// What the relight says; sector, plan and hold are the question's own.
Json relight_json(const restore::RelightQuestion& question, const restore::Relight& relight);

/// The hold of the sector, as far as the relight needs it.
Json hold_json(const linepack::Watched& watched);

}  // namespace bellhole::wire
