// Labels to print, cut and stick on enclosures: a QR code that opens the enclosure's survey page, and its name and id in words
// for who has no phone at hand.
#pragma once

#include <string>
#include <vector>

#include "paper/pdf.h"
#include "record/store.h"

namespace dapple::paper {

struct Label {
    std::string id;
    std::string name;
    std::string under;  // a line below the name: the room
    std::string link;   // what the code says
};

struct LabelOptions {
    record::Moment now;
    std::string public_url;  // of the web application, "https://..."
    int rows = 7;
    int columns = 3;
    Paper paper = Paper::a4;
    std::vector<std::string> sites = {};       // ids; none: all
    std::vector<std::string> enclosures = {};  // ids; none: all of the sites
};

// Refused: no labels, a link no code holds, and labels so small that a module of the code is under 0.35 mm.
Expected<std::string> labels_pdf(const std::vector<Label>& labels, const LabelOptions& options);

// Every enclosure in use, by room and name; refused where the address is none.
record::Result<std::vector<Label>> labels_of(const record::Store& store, const LabelOptions& options);

record::Result<std::string> labels_pdf(const record::Store& store, const LabelOptions& options);

}  // namespace dapple::paper
