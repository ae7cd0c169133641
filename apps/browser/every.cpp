#include "apps/browser/door.hpp"

namespace bellhole::browser {

ask::Reply answer(std::string_view request, ask::Context context) {
  return ask::ask(request, context);
}

}  // namespace bellhole::browser
