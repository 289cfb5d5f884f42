#include "scene/enclosure.h"

namespace dapple::scene {

std::string_view name(Face face) {
    switch (face) {
        case Face::floor:
            return "floor";
        case Face::left:
            return "left";
        case Face::right:
            return "right";
        case Face::front:
            return "front";
        case Face::back:
            return "back";
        case Face::top:
            return "top";
    }
    return "";
}

std::string_view name(HeatKind kind) {
    switch (kind) {
        case HeatKind::incandescent:
            return "incandescent";
        case HeatKind::halogen:
            return "halogen";
        case HeatKind::heat_lamp:
            return "heat_lamp";
        case HeatKind::fluorescent:
            return "fluorescent";
        case HeatKind::mercury_vapour:
            return "mercury_vapour";
        case HeatKind::metal_halide:
            return "metal_halide";
        case HeatKind::led:
            return "led";
        case HeatKind::emitter:
            return "emitter";
    }
    return "";
}

}  // namespace dapple::scene
