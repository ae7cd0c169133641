// The blocks of a squeeze sheet, and the sheet as pages of a larger document.
#pragma once

#include <string>

#include "sheets/flow.hpp"
#include "sheets/options.hpp"
#include "sheets/reply.hpp"

namespace bellhole::sheets {

/// Where the sheet belongs. All empty for a sheet of its own.
struct SqueezeContext {
  std::string letter;      ///< of the shut-off in its plan
  std::string place;       ///< "Squeeze M-5 at 59.1 ft, Bakers Row"
  std::string code;        ///< what the QR code says
  std::string id;          ///< "reply 8607ec617232", for the eye
  bool emergency = false;  ///< shutting does not wait for the verdict
};

/// How tightly the sheet is set: from roomy to what still can be read.
struct Density {
  double prompt_size = 11;
  int prompt_columns = 2;
  bool fact_grid = true;  ///< else the facts run on as one paragraph
  double pen_row = 24;
  std::size_t pen_columns = 6;  ///< lines to write on, side by side
  double gap = 1;               ///< of the space between blocks
  double verdict_size = size::body;
  bool by_stage = false;  ///< the maker's rows of one stage run on after one tick box
};

double draw_squeeze_title(Canvas& canvas, const Box& at, const Reply& reply,
                          const SqueezeContext& context);
double draw_stop(Canvas& canvas, const Box& at, const Reply& reply, units::System system);
double draw_wall_compression(Canvas& canvas, const Box& at, const Reply& reply,
                             units::System system);
double draw_squeeze_facts(Canvas& canvas, const Box& at, const Reply& reply, const Density& density,
                          units::System system);
double draw_pace(Canvas& canvas, const Box& at, const Reply& reply, units::System system);
/// What the pump's gauge should read; nothing for a tool without a ram on record.
double draw_pump(Canvas& canvas, const Box& at, const Reply& reply, units::System system);
double draw_places(Canvas& canvas, const Box& at, const Reply& reply, units::System system);
double draw_prompts(Canvas& canvas, const Box& at, const Reply& reply, const Density& density);
double draw_measured(Canvas& canvas, const Box& at, const Reply& reply, const Density& density);

/// Sets the sheet from the top of the flow's page; the tightest density that is needed to keep to
/// one page.
void set_squeeze_sheet(Flow& flow, const Frame& frame, const Reply& reply,
                       const SqueezeContext& context, units::System system);

}  // namespace bellhole::sheets
