#include "paper/pdf_finish.h"

#include <fmt/format.h>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>
#include <qpdf/QPDFWriter.hh>

#include "paper/srgb_profile.h"

namespace dapple::paper {

namespace {

using Object = QPDFObjectHandle;

std::string escaped(const std::string& words) {
    std::string text;
    for (const char c : words) {
        if (c == '&') {
            text += "&amp;";
        } else if (c == '<') {
            text += "&lt;";
        } else if (c == '>') {
            text += "&gt;";
        } else if (static_cast<unsigned char>(c) >= 0x20) {
            text += c;
        }
    }
    return text;
}

// ISO 16684-1. What the information dictionary says, said again.
std::string xmp(const About& about, const std::string& producer) {
    const std::string date = record::to_text(about.made).substr(0, 19) + "Z";
    return fmt::format(
        "<?xpacket begin=\"\xEF\xBB\xBF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
        "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">"
        "<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">"
        "<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\""
        " xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\">"
        "<dc:format>application/pdf</dc:format>"
        "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{0}</rdf:li></rdf:Alt></dc:title>"
        "<dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">{1}</rdf:li></rdf:Alt></dc:description>"
        "<dc:language><rdf:Bag><rdf:li>en</rdf:li></rdf:Bag></dc:language>"
        "<xmp:CreateDate>{2}</xmp:CreateDate><xmp:CreatorTool>Dapple " DAPPLE_VERSION
        "</xmp:CreatorTool>"
        "<pdf:Producer>{3}</pdf:Producer>"
        "</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"w\"?>",
        escaped(about.title), escaped(about.subject), date, escaped(producer));
}

Object stream(QPDF& pdf, const std::string& bytes, const std::string& dictionary) {
    Object made = Object::newStream(&pdf, bytes);
    made.replaceDict(Object::parse(dictionary));
    return pdf.makeIndirectObject(made);
}

void add_output_intent(QPDF& pdf) {
    Object intent = Object::parse(
        "<< /Type /OutputIntent /S /GTS_PDFA1 /OutputConditionIdentifier (sRGB) "
        "/Info (sRGB IEC61966-2.1) >>");
    intent.replaceKey("/DestOutputProfile", stream(pdf, srgb_profile(), "<< /N 3 >>"));
    Object intents = Object::newArray();
    intents.appendItem(intent);
    pdf.getRoot().replaceKey("/OutputIntents", intents);
}

// Walks the structure in its order and gives each Figure its description.
void describe_figures(Object element, const std::vector<std::string>& alternatives, std::size_t& next) {
    if (element.isArray()) {
        for (int i = 0; i < element.getArrayNItems(); ++i)
            describe_figures(element.getArrayItem(i), alternatives, next);
    } else if (element.isDictionary() && element.hasKey("/S")) {
        if (element.getKey("/S").getName() == "/Figure" && next < alternatives.size())
            element.replaceKey("/Alt", Object::newUnicodeString(alternatives[next++]));
        if (element.hasKey("/K")) describe_figures(element.getKey("/K"), alternatives, next);
    }
}

}  // namespace

std::string finished(const std::string& bytes, const About& about,
                     const std::vector<std::string>& alternatives) {
    QPDF pdf;
    pdf.processMemoryFile("report", bytes.data(), bytes.size());
    Object root = pdf.getRoot();
    root.replaceKey("/Lang", Object::newUnicodeString("en"));
    root.replaceKey("/ViewerPreferences", Object::parse("<< /DisplayDocTitle true >>"));
    if (root.hasKey("/StructTreeRoot") && root.getKey("/StructTreeRoot").hasKey("/K")) {
        std::size_t next = 0;
        describe_figures(root.getKey("/StructTreeRoot").getKey("/K"), alternatives, next);
    }
    Object info = pdf.getTrailer().getKey("/Info");
    const std::string producer = info.isDictionary() && info.hasKey("/Producer")
                                     ? info.getKey("/Producer").getUTF8Value()
                                     : std::string();
    root.replaceKey("/Metadata", stream(pdf, xmp(about, producer), "<< /Type /Metadata /Subtype /XML >>"));
    add_output_intent(pdf);

    QPDFWriter writer(pdf);
    writer.setOutputMemory();
    writer.setDeterministicID(true);  // PDF/A wants an ID; the same report has the same
    writer.setCompressStreams(true);
    writer.setNewlineBeforeEndstream(true);
    writer.write();
    const std::shared_ptr<Buffer> buffer = writer.getBufferSharedPointer();
    return {reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize()};
}

}  // namespace dapple::paper
