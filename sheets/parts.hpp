// Parts that every sheet has: the verdict, the findings, what was taken for granted, the setting in
// two passes.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "sheets/flow.hpp"
#include "sheets/marks.hpp"
#include "sheets/reply.hpp"

namespace bellhole::sheets {

/// Runs `compose` once without ink to count pages and once with. It gets the total (0 the first
/// time) and answers the number of pages.
Result<std::string> set_on_paper(PaperSize paper, const Info& info,
                                 const std::function<std::size_t(Canvas&, std::size_t)>& compose);

/// Framed: sign, word, the first of the worst findings with its action, how many more there are.
/// An emergency is shut first, whatever stands open.
double draw_verdict(Canvas& canvas, const Box& at, const std::string& verdict,
                    std::vector<Reply> findings, bool emergency, double body_size = size::body);

/// The findings that the verdict's frame does not show already: worst first, each with its sign,
/// action and source, in fine print. Nothing, not even the heading, where there are none.
void set_findings(Flow& flow, const std::string& verdict, std::vector<Reply> findings,
                  const std::string& heading);
/// A list under a small heading, in fine print; nothing where there are no lines.
void set_lines(Flow& flow, const std::string& heading, const std::vector<std::string>& lines);

/// The same as one paragraph: for what is looked up rather than read.
void set_run_on(Flow& flow, const std::string& lead, const std::vector<std::string>& parts);

/// "49 CFR 192.121, from memory", or "" without a source.
std::string source_of(const Reply& finding);

/// A tick box with its text beside it; answers the height.
double draw_tick(Canvas& canvas, const Box& at, const Text& says, Type type = body_type);

/// Two columns of name and value, the name in fine print.
struct Fact {
  std::string name;
  Text value;
};
double draw_facts(Canvas& canvas, const Box& at, const std::vector<Fact>& facts, double name_width);

/// The first characters of a hash, enough to tell two sheets apart by eye.
std::string short_id(const std::string& id);

}  // namespace bellhole::sheets
