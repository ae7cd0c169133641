// What a computed squeeze looks like: the section under the bars as SVG, and every brick as a
// legacy VTK text file for programs that draw solids.
#pragma once

#include <string>

#include "findings/trouble.hpp"
#include "wire/json.hpp"

namespace bellhole::sheets {

/// The section: unloaded dashed, at the stops black, at the end hatched if it was opened. Errors:
/// unreadable_document when a part of the reply is not as the contract says.
Result<std::string> flatten_svg(const wire::Json& reply);

/// Of a reply with its mesh: the bricks of the eighth that is computed, unloaded, with the way of
/// each node to the stops and to the end as two vector fields. VTK file format 3.0, ASCII,
/// unstructured grid. Errors: missing_value for a reply without a mesh.
Result<std::string> flatten_vtk(const wire::Json& reply);

}  // namespace bellhole::sheets
