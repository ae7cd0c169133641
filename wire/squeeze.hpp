// The questions "squeeze" and "pace" as documents. The layouts are
// schema/squeeze.request.schema.json, schema/squeeze.reply.schema.json and the two of pace.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "findings/trouble.hpp"
#include "procedure/profile.hpp"
#include "squeeze/sheet.hpp"
#include "units/print.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Size, ratio or measured wall, and material, and nothing else. Errors: as read_squeeze().
Result<bool> read_pipe(const Object& request, squeeze::Found& found);

/// The pipe alone: size, ratio or measured wall, material, making date, lining, pressure and
/// temperature. Errors: as read_squeeze().
Result<bool> read_found(const Object& request, squeeze::Found& found);

/// The pipe, hole and free stops of a request; tool, stops file and profile are read by who holds
/// the files. Errors: those of the sizes, materials, units and dates, naming the key; missing_value
/// without a size; contradiction where two keys say the same thing differently.
Result<squeeze::Question> read_squeeze(const Object& request);

/// "us" or "metric" of the request; else millimetres for a dn pipe and inches for an inch pipe.
Result<units::System> read_units(const Object& request, const squeeze::Question& question);

/// Everything of a sheet but its findings.
nlohmann::json sheet_json(const squeeze::Sheet& sheet, const squeeze::Question& question,
                          const procedure::Profile& profile, units::System units);
/// The part of it that pace needs: pipe, gap, timetables, tool.
nlohmann::json pace_json(const squeeze::Sheet& sheet, const procedure::Profile& profile,
                         units::System units);

}  // namespace bellhole::wire
