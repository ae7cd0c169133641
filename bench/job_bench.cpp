// The log of a job: 5,000 events of four devices folded (target 50 ms), read from text, audited;
// and the record of such a job set on paper (target 1 s). Processor time, of one thread.
//
// bench_job [EVENTS ...]     default 300 5000
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <map>
#include <nlohmann/json.hpp>
#include <vector>

#include "ask/ask.hpp"
#include "sheets/record_sheet.hpp"
#include "wire/job.hpp"

namespace bellhole {
namespace {

template <class Work>
double median_ms(int times, const Work& work) {
  std::vector<double> took;
  for (int i = 0; i < times; ++i) {
    const std::clock_t begin = std::clock();
    work();
    took.push_back(1000.0 * static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC);
  }
  std::ranges::sort(took);
  return took[took.size() / 2];
}

/// What happens on a job, over and over: readings, points of the bars, steps, visits to meters.
wire::Json draft(int i) {
  using Json = wire::Json;
  const Json by = fmt::format("P-{}", i % 4);
  if (i == 0)
    return {{"kind", "opened"}, {"by", by}, {"fact", {{"title", "Bench"}, {"work", "planned"}}}};
  switch (i % 5) {
    case 0:
      return {{"kind", "meter"},
              {"by", by},
              {"fact", {{"meter", fmt::format("c-{}", i)}, {"did", i % 2 == 0 ? "off" : "on"}}}};
    case 1:
      return {{"kind", "bars"},
              {"by", by},
              {"source", "sensor"},
              {"fact", {{"about", fmt::format("S{}", i / 50)}, {"gap_m", 0.1 - 0.002 * (i % 50)}}}};
    case 2:
      return {{"kind", "act"},
              {"by", by},
              {"fact",
               {{"did", i % 3 == 0 ? "shut" : "undone"}, {"about", fmt::format("S{}", i / 50)}}}};
    case 3:
      return {{"kind", "note"}, {"by", by}, {"fact", {{"says", "nothing new at the low point"}}}};
    default:
      return {
          {"kind", "reading"},
          {"by", by},
          {"fact",
           {{"point", fmt::format("A-{}", i % 3)}, {"instrument", "G-1"}, {"pressure", "31psig"}}}};
  }
}

std::string log_of(int events) {
  struct End {
    std::int64_t sequence = 0;
    job::Hash hash;
  };
  std::map<std::string, End> ends;
  std::string text;
  for (int i = 0; i < events; ++i) {
    const std::string device = fmt::format("phone-{}", i % 4);
    End& end = ends[device];
    wire::Entering entering{.job = "019abcde-0000-7000-8000-000000000001",
                            .device = device,
                            .boot = "b",
                            .sequence = ++end.sequence,
                            .previous = end.hash,
                            .seen = {},
                            .entered_at = {{1'764'000'000'000 + 4000LL * i}, 0},
                            .monotonic = Duration::from_si(4.0 * i)};
    if (i % 7 == 0)
      for (const auto& [other, head] : ends)
        if (other != device && !head.hash.empty()) entering.seen.push_back(head.hash);
    const auto line = wire::enter(draft(i), entering, "bench");
    if (!line) {
      fmt::print("{}: {} {}\n", line.error().where, line.error().value, line.error().fix);
      std::exit(3);
    }
    end.hash = wire::seal_of(*line, "")->hash;
    text += *line + "\n";
  }
  return text;
}

wire::Json asked(const char* question, const std::string& log) {
  ask::Library library;
  Unwatched watch;
  OneLane lanes;
  const wire::Json request = {{"question", question}, {"log", log}};
  return wire::Json::parse(ask::ask(request.dump(), {library, watch, lanes}).document);
}

void measure(int events) {
  const std::string text = log_of(events);
  const auto log = wire::read_log(text, "bench");
  std::size_t folded = 0;
  const double fold = median_ms(15, [&] { folded = job::fold(*log).events; });
  const double order = median_ms(15, [&] { (void)job::Log::of(log->events()); });
  const double read = median_ms(5, [&] { (void)wire::read_log(text, "bench"); });
  fmt::print(
      "{:>6} events, {} bytes: fold {:6.2f} ms  order {:6.2f} ms  read from text {:7.2f} ms\n",
      folded, text.size(), fold, order, read);
  const wire::Json state = asked("job-state", text), audit = asked("job-audit", text),
                   handover = asked("job-handover", text);
  std::size_t bytes = 0;
  const double paper = median_ms(3, [&] {
    const auto sheet = sheets::record_sheet({state, audit, handover}, "record",
                                            {sheets::Paper::a4, units::System::us});
    bytes = sheet ? sheet->size() : 0;
  });
  fmt::print("{:>6} events: record on paper {:7.1f} ms, {} bytes\n", events, paper, bytes);
}

}  // namespace
}  // namespace bellhole

int main(int argc, char** argv) {
  std::vector<int> sizes;
  for (int i = 1; i < argc; ++i) sizes.push_back(std::atoi(argv[i]));
  if (sizes.empty()) sizes = {300, 5000};
  for (const int size : sizes) bellhole::measure(size);
}
