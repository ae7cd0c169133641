#include "sheets/record_sheet.hpp"

#include <algorithm>
#include <array>
#include <functional>
#include <nlohmann/json.hpp>

#include "sheets/record_parts.hpp"

namespace bellhole::sheets {
namespace {

struct Kind {
  std::string_view name, title;
  void (*set)(const RecordPart&);
};

void set_all(const RecordPart& part) {
  set_found(part);
  part.flow.space(4);
  set_deviations(part);
  set_plan(part);
  set_squeezes(part, false);
  set_steps(part);
  set_readings(part);
  set_tests(part);
  set_purges(part);
  set_outage(part);
  set_laid(part);
  set_people(part);
  set_chain(part);
}

constexpr std::array kinds{
    Kind{"record", "Record of the job", set_all},
    Kind{"squeeze", "Squeezes as made", [](const RecordPart& part) { set_squeezes(part, true); }},
    Kind{"test", "Pressure tests", set_tests},
    Kind{"purge", "Purges", set_purges},
    Kind{"outage", "Customers off and on", set_outage},
    Kind{"as-laid", "As laid", set_laid},
    Kind{"handover", "Hand-over", set_handover}};

}  // namespace

Result<std::string> record_sheet(const Record& record, std::string_view sheet,
                                 const Options& options) {
  const auto kind = std::ranges::find(kinds, sheet, &Kind::name);
  if (kind == kinds.end())
    return trouble(Code::unreadable_value, "sheet", std::string(sheet),
                   "record, squeeze, test, purge, outage, as-laid or handover");
  Faults faults;
  const Reply state(record.state, "state", faults), audit(record.audit, "audit", faults),
      handover(record.handover, "handover", faults);
  const std::string title(kind->title), job = state.need_text("job");
  auto bytes =
      set_on_paper(size_of(options.paper), {title + " " + job, "Job " + job, ""},
                   [&](Canvas& canvas, std::size_t pages) {
                     const Frame frame{size_of(options.paper),
                                       "Bellhole · " + title,
                                       "job " + job,
                                       state.text("engine") +
                                           " · from the log alone; nothing here was computed anew",
                                       pages,
                                       true};
                     Flow flow(canvas, frame);
                     const RecordPart part{flow, state, audit, handover, options.system};
                     set_record_head(part, title);
                     kind->set(part);
                     return flow.close();
                   });
  if (faults.first()) return std::unexpected(*faults.first());
  return bytes;
}

}  // namespace bellhole::sheets
