#include "findings/trouble.hpp"

namespace bellhole {

std::string_view to_string(Code code) {
  switch (code) {
    case Code::unreadable_value:
      return "unreadable_value";
    case Code::wrong_dimension:
      return "wrong_dimension";
    case Code::out_of_range:
      return "out_of_range";
    case Code::missing_value:
      return "missing_value";
    case Code::contradiction:
      return "contradiction";
    case Code::unknown_size:
      return "unknown_size";
    case Code::unknown_ratio:
      return "unknown_ratio";
    case Code::unknown_material:
      return "unknown_material";
    case Code::unknown_profile:
      return "unknown_profile";
    case Code::unknown_rule:
      return "unknown_rule";
    case Code::ambiguous_rows:
      return "ambiguous_rows";
    case Code::not_overridable:
      return "not_overridable";
    case Code::bad_tool:
      return "bad_tool";
    case Code::unknown_element:
      return "unknown_element";
    case Code::bad_network:
      return "bad_network";
    case Code::no_source:
      return "no_source";
    case Code::bad_gas:
      return "bad_gas";
    case Code::work_not_found:
      return "work_not_found";
    case Code::work_on_equipment:
      return "work_on_equipment";
    case Code::unreadable_document:
      return "unreadable_document";
    case Code::too_large:
      return "too_large";
    case Code::unreadable_file:
      return "unreadable_file";
    case Code::unwritable_file:
      return "unwritable_file";
    case Code::bad_mapping:
      return "bad_mapping";
    case Code::bad_geometry:
      return "bad_geometry";
    case Code::cancelled:
      return "cancelled";
    case Code::bug:
      return "bug";
  }
  return "bug";
}

}  // namespace bellhole
