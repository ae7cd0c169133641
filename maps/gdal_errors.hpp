// What GDAL has to say, kept instead of printed. Internal to the files that use GDAL.
#pragma once

#include <cpl_error.h>

#include <string>

namespace bellhole::maps {

/// Listens while it lives. Only failures count; warnings are not said.
class GdalErrors {
 public:
  GdalErrors() {
    CPLPushErrorHandlerEx(&GdalErrors::hear, this);
    CPLErrorReset();
  }
  ~GdalErrors() { CPLPopErrorHandler(); }
  GdalErrors(const GdalErrors&) = delete;
  GdalErrors& operator=(const GdalErrors&) = delete;

  [[nodiscard]] bool failed() const { return failed_; }
  /// The first failure, in GDAL's words.
  [[nodiscard]] const std::string& said() const { return said_; }

 private:
  static void CPL_STDCALL hear(CPLErr level, CPLErrorNum, const char* text) {
    auto* self = static_cast<GdalErrors*>(CPLGetErrorHandlerUserData());
    if (level < CE_Failure) return;
    self->failed_ = true;
    if (self->said_.empty()) self->said_ = text;
  }
  bool failed_ = false;
  std::string said_;
};

}  // namespace bellhole::maps
