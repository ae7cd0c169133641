// The question "flatten" as a document: schema/flatten.request.schema.json and
// schema/flatten.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "flatten/pipe_run.hpp"
#include "squeeze/sheet.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

struct AskedRun {
  squeeze::Found pipe;
  pipe::Walls walls;
  flatten::PipeRun run;
  bool with_mesh = false;
};

/// Errors: missing_value for what a run cannot be without, those of sizes, walls and materials.
Result<AskedRun> read_pipe_run(const Object& request);

nlohmann::json pipe_run_json(const AskedRun& asked, const flatten::PipeRunAnswer& answer);

}  // namespace bellhole::wire
