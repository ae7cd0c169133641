// The answers of putting back that need no map, from request to reply document. Wanted: each under
// 10 ms.
//
// bench_restore
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <string_view>
#include <utility>
#include <vector>

#include "ask/ask.hpp"

namespace {

using namespace bellhole;

constexpr std::array asked{
    std::pair(std::string_view("pressure-test"),
              std::string_view(R"({"question":"pressure-test","size":"IPS 6","dr":11.5,
                "material":"PE2708","volume":"98ft3","mop":"60psi","ends":"blank,blank",
                "start":"94psi 84degF","end":"91psi 72degF","duration":"2h"})")),
    std::pair(std::string_view("purge"),
              std::string_view(R"({"question":"purge","bore":"5.473in","length":"600ft",
                "speed":"3ft/s","pack_to":"58psi","stack_bore":"2in","stack_height":"8ft",
                "line_pressure":"55psig"})")),
    std::pair(std::string_view("join"),
              std::string_view(R"({"question":"join","size":"IPS 8","dr":11,"material":"PE4710",
                "piston":"4.71in2","drag":"30psi","heater":"425degF","ambient":"70degF"})"))};

void measure(std::string_view name, std::string_view request) {
  const ask::Library library;
  Unwatched watch;
  OneLane lanes;
  std::vector<double> ms;
  for (int i = 0; i < 101; ++i) {
    const auto begin = std::chrono::steady_clock::now();
    const ask::Reply reply = ask::ask(request, {library, watch, lanes});
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - begin;
    if (reply.outcome == ask::Outcome::bad_input || reply.outcome == ask::Outcome::fault)
      return fmt::print("{:<14} refused: {}\n", name, reply.document);
    ms.push_back(took.count());
  }
  std::ranges::sort(ms);
  fmt::print("{:<14} median {:6.2f} ms, worst {:6.2f} ms of {}; wanted under 10 ms\n", name,
             ms[ms.size() / 2], ms.back(), ms.size());
}

}  // namespace

int main() {
  for (const auto& [name, request] : asked) measure(name, request);
}
