#include "record/calibrated.h"

namespace dapple::record {

Calibrations::Calibrations(Connection& connection) {
    connection.each(
        "select meter, calibrated_on, factor, offset_by from calibrations where retired_at is null "
        "order by meter, calibrated_on, id",
        "ttrr", {}, [this](const Row& row) {
            of_[text_of(row[0])].push_back({text_of(row[1]), real_of(row[2]), real_of(row[3])});
        });
}

double Calibrations::true_value(const std::string& meter, const std::string& day, double reading) const {
    const auto found = of_.find(meter);
    if (found == of_.end()) return reading;
    double value = reading;
    for (const Calibration& calibration : found->second) {
        if (calibration.day > day) break;
        value = reading * calibration.factor + calibration.offset;
    }
    return value;
}

}  // namespace dapple::record
