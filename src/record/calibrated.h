// What a meter's reading truly was, by its last calibration before it. For this folder only.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "record/connection.h"

namespace dapple::record {

class Calibrations {
  public:
    explicit Calibrations(Connection& connection);  // all of the record

    // True value = reading x factor + offset, of the newest calibration of the meter on or before `day`; a reading
    // without any is taken as it is.
    double true_value(const std::string& meter, const std::string& day, double reading) const;

  private:
    struct Calibration {
        std::string day;
        double factor;
        double offset;
    };
    std::map<std::string, std::vector<Calibration>> of_;  // by meter, oldest first
};

}  // namespace dapple::record
