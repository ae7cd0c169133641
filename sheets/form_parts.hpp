// Parts of the sheets that are filled in by hand: a title with the reply's code, forms, lines.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "sheets/flow.hpp"
#include "sheets/reply.hpp"

namespace bellhole::sheets {

/// What identifies a sheet on paper: the words of its title, the question, and the reply's hash.
struct FormTitle {
  std::string says;       ///< "Pressure test  IPS 6  DR 11.5  PE2708"
  std::string procedure;  ///< title of the profile
  std::string question;   ///< "pressure-test", for the code
  std::string hash;
};

/// Lines to write on, side by side in `columns`, a fine label over each.
double draw_pen_grid(Canvas& canvas, const Box& at, const std::vector<std::string>& labels,
                     std::size_t columns, double row = 24);

/// A boxed form: heads, rows that are filled as far as something is known, and empty ones to write
/// in. Shares are relative widths.
struct Form {
  std::vector<std::string> heads;
  std::vector<double> shares;
  std::vector<std::vector<std::string>> rows;
  std::size_t empty_rows = 0;
};
double draw_form(Canvas& canvas, const Box& at, const Form& form);

/// The reply's cautions as boxes to tick, in two columns.
void set_cautions(Flow& flow, const Reply& reply);

/// One sheet of its own from a reply: set in two passes, titled, its verdict first, its findings
/// and what was taken for granted at the end. `body` sets what stands between. Errors: as
/// set_on_paper.
Result<std::string> form_sheet(const Reply& reply, const Options& options, const FormTitle& title,
                               const std::string& head, const std::function<void(Flow&)>& body);

/// "50 ft": how far people keep off, never rounded down.
std::string keep_off_words(double metres, units::System system);

/// "IPS 6  DR 11.5  PE2708" of a reply's pipe.
std::string form_pipe_words(const Reply& pipe);

}  // namespace bellhole::sheets
