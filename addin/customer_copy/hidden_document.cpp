// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/hidden_document.hpp"

#include <algorithm>
#include <boost/archive/iterators/base64_from_binary.hpp>
#include <boost/archive/iterators/binary_from_base64.hpp>
#include <boost/archive/iterators/transform_width.hpp>
#include <cctype>
#include <com/sun/star/awt/Size.hpp>
#include <com/sun/star/beans/NamedValue.hpp>
#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/container/XIndexAccess.hpp>
#include <com/sun/star/container/XNamed.hpp>
#include <com/sun/star/document/XExporter.hpp>
#include <com/sun/star/document/XFilter.hpp>
#include <com/sun/star/drawing/FillStyle.hpp>
#include <com/sun/star/drawing/LineStyle.hpp>
#include <com/sun/star/drawing/XDrawPagesSupplier.hpp>
#include <com/sun/star/drawing/XShape.hpp>
#include <com/sun/star/frame/Desktop.hpp>
#include <com/sun/star/frame/XComponentLoader.hpp>
#include <com/sun/star/frame/XModel.hpp>
#include <com/sun/star/frame/XStorable.hpp>
#include <com/sun/star/graphic/GraphicProvider.hpp>
#include <com/sun/star/io/TempFile.hpp>
#include <com/sun/star/lang/XMultiServiceFactory.hpp>
#include <com/sun/star/lang/XServiceInfo.hpp>
#include <com/sun/star/sheet/XCellRangeAddressable.hpp>
#include <com/sun/star/sheet/XSheetCellCursor.hpp>
#include <com/sun/star/sheet/XSpreadsheet.hpp>
#include <com/sun/star/sheet/XSpreadsheetView.hpp>
#include <com/sun/star/sheet/XUsedAreaCursor.hpp>
#include <com/sun/star/table/XColumnRowRange.hpp>
#include <com/sun/star/util/XCloseable.hpp>
#include <com/sun/star/view/XRenderable.hpp>

#include "addin/convert.hpp"
#include "addin/office/filters.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

namespace uno = com::sun::star::uno;
namespace beans = com::sun::star::beans;
namespace container = com::sun::star::container;
namespace drawing = com::sun::star::drawing;
namespace frame = com::sun::star::frame;
namespace io = com::sun::star::io;
namespace sheet = com::sun::star::sheet;
using uno::Any;

// The resolution at which pictures are rendered, dots per inch.
constexpr double dots_per_inch = 300.0;

class Stream {
  public:
    explicit Stream(const Context& context) : file_(io::TempFile::create(context), uno::UNO_QUERY_THROW) {}
    Stream(const Context& context, const std::string& bytes) : Stream(context) {
        const uno::Sequence<sal_Int8> data(reinterpret_cast<const sal_Int8*>(bytes.data()),
                                           static_cast<sal_Int32>(bytes.size()));
        uno::Reference<io::XOutputStream>(file_, uno::UNO_QUERY_THROW)->writeBytes(data);
        file_->seek(0);
    }
    Any output() const { return Any(uno::Reference<io::XOutputStream>(file_, uno::UNO_QUERY_THROW)); }
    Any input() const { return Any(uno::Reference<io::XInputStream>(file_, uno::UNO_QUERY_THROW)); }
    std::string bytes() const {
        file_->seek(0);
        uno::Sequence<sal_Int8> data;
        const sal_Int32 length = uno::Reference<io::XInputStream>(file_, uno::UNO_QUERY_THROW)
                                     ->readBytes(data, static_cast<sal_Int32>(file_->getLength()));
        return {reinterpret_cast<const char*>(data.getConstArray()), static_cast<std::size_t>(length)};
    }

  private:
    uno::Reference<io::XSeekable> file_;
};

std::string to_base64(const std::string& bytes) {
    using namespace boost::archive::iterators;
    using Encoded = base64_from_binary<transform_width<std::string::const_iterator, 6, 8>>;
    std::string text(Encoded(bytes.begin()), Encoded(bytes.end()));
    text.append((3 - bytes.size() % 3) % 3, '=');
    return text;
}

std::string from_base64(std::string text) {
    using namespace boost::archive::iterators;
    using Decoded = transform_width<binary_from_base64<std::string::const_iterator>, 8, 6>;
    std::erase_if(text, [](unsigned char c) { return std::isalnum(c) == 0 && c != '+' && c != '/'; });
    const std::size_t length = text.size() * 6 / 8;
    text.append((4 - text.size() % 4) % 4, 'A');
    std::string bytes(Decoded(text.begin()), Decoded(text.end()));
    bytes.resize(length);
    return bytes;
}

using office::sheet_named;
using office::sheets_of;

bool is_visible(const uno::Reference<uno::XInterface>& on_sheet) {
    bool visible = true;
    uno::Reference<beans::XPropertySet>(on_sheet, uno::UNO_QUERY_THROW)->getPropertyValue("IsVisible") >>=
        visible;
    return visible;
}

void store(const Spreadsheet& document, const Stream& stream, const rtl::OUString& filter) {
    uno::Reference<frame::XStorable>(document, uno::UNO_QUERY_THROW)
        ->storeToURL("private:stream",
                     properties({{"FilterName", Any(filter)}, {"OutputStream", stream.output()}}));
}

void draw(const Context& context, const uno::Reference<uno::XInterface>& part,
          std::map<std::string, std::string>& pictures) {
    const uno::Reference<container::XIndexAccess> group(part, uno::UNO_QUERY);
    const uno::Reference<drawing::XShape> shape(part, uno::UNO_QUERY);
    const uno::Reference<com::sun::star::lang::XServiceInfo> kind(part, uno::UNO_QUERY);
    if (shape.is() && kind.is() && kind->supportsService("com.sun.star.drawing.GraphicObjectShape")) {
        const uno::Reference<beans::XPropertySet> look(shape, uno::UNO_QUERY_THROW);
        look->setPropertyValue("LineStyle", Any(drawing::LineStyle_NONE));
        look->setPropertyValue("FillStyle", Any(drawing::FillStyle_NONE));
        look->setPropertyValue("Shadow", Any(false));
        look->setPropertyValue("RotateAngle", Any(sal_Int32(0)));
        const auto size = shape->getSize();
        const sal_Int32 width =
            std::max<sal_Int32>(1, static_cast<sal_Int32>(size.Width / 2540.0 * dots_per_inch));
        const sal_Int32 height =
            std::max<sal_Int32>(1, static_cast<sal_Int32>(static_cast<double>(width) * size.Height /
                                                          std::max<sal_Int32>(1, size.Width)));
        const Stream stream(context);
        const auto filter = create(context, "com.sun.star.drawing.GraphicExportFilter");
        uno::Reference<com::sun::star::document::XExporter>(filter, uno::UNO_QUERY_THROW)
            ->setSourceDocument(
                uno::Reference<com::sun::star::lang::XComponent>(shape, uno::UNO_QUERY_THROW));
        uno::Reference<com::sun::star::document::XFilter>(filter, uno::UNO_QUERY_THROW)
            ->filter(properties({{"MediaType", Any(rtl::OUString("image/png"))},
                                 {"OutputStream", stream.output()},
                                 {"FilterData", Any(properties({{"PixelWidth", Any(width)},
                                                                {"PixelHeight", Any(height)},
                                                                {"Translucent", Any(sal_Int32(1))}}))}}));
        const std::string name =
            to_utf8(uno::Reference<container::XNamed>(shape, uno::UNO_QUERY_THROW)->getName());
        pictures[name] = to_base64(stream.bytes());
    } else if (group.is()) {
        for (sal_Int32 i = 0; i < group->getCount(); ++i)
            draw(context, uno::Reference<uno::XInterface>(group->getByIndex(i), uno::UNO_QUERY_THROW),
                 pictures);
    }
}

}  // namespace

std::string as_xml(const Context& context, const Spreadsheet& document) {
    const Stream stream(context);
    store(document, stream, office::filter_of(".fods"));
    return stream.bytes();
}

HiddenDocument::HiddenDocument(const Context& context, const std::string& xml) : context_(context) {
    const Stream stream(context, xml);
    const uno::Reference<frame::XComponentLoader> desktop(frame::Desktop::create(context),
                                                          uno::UNO_QUERY_THROW);
    document_.set(desktop->loadComponentFromURL("private:stream", "_blank", 0,
                                                properties({{"FilterName", Any(office::filter_of(".fods"))},
                                                            {"InputStream", stream.input()},
                                                            {"Hidden", Any(true)},
                                                            {"MacroExecutionMode", Any(sal_Int16(0))},
                                                            {"UpdateDocMode", Any(sal_Int16(0))}})),
                  uno::UNO_QUERY_THROW);
}

void HiddenDocument::belong_to_nobody() const {
    const uno::Reference<com::sun::star::lang::XMultiServiceFactory> factory(document_, uno::UNO_QUERY_THROW);
    const uno::Reference<beans::XPropertySet> settings(
        factory->createInstance("com.sun.star.document.Settings"), uno::UNO_QUERY_THROW);
    settings->setPropertyValue("ApplyUserData", Any(false));
}

HiddenDocument::~HiddenDocument() {
    try {
        uno::Reference<com::sun::star::util::XCloseable>(document_, uno::UNO_QUERY_THROW)->close(true);
    } catch (...) {
        // It closes with the office.
    }
}

int HiddenDocument::pages(const std::string& name) const {
    return uno::Reference<com::sun::star::view::XRenderable>(document_, uno::UNO_QUERY_THROW)
        ->getRendererCount(Any(sheet_named(document_, name)), {});
}

std::map<std::string, std::string> HiddenDocument::pictures() const {
    std::map<std::string, std::string> drawn;
    const uno::Reference<container::XIndexAccess> sheets(
        uno::Reference<drawing::XDrawPagesSupplier>(document_, uno::UNO_QUERY_THROW)->getDrawPages(),
        uno::UNO_QUERY_THROW);
    for (sal_Int32 i = 0; i < sheets->getCount(); ++i)
        draw(context_, uno::Reference<uno::XInterface>(sheets->getByIndex(i), uno::UNO_QUERY_THROW), drawn);
    return drawn;
}

void HiddenDocument::move_to_end(const std::string& name) const {
    document_->getSheets()->moveByName(to_unicode(name),
                                       static_cast<sal_Int16>(sheets_of(document_)->getCount()));
}

void HiddenDocument::show_first() const {
    const uno::Reference<sheet::XSpreadsheetView> view(
        uno::Reference<frame::XModel>(document_, uno::UNO_QUERY_THROW)->getCurrentController(),
        uno::UNO_QUERY);
    const auto sheets = sheets_of(document_);
    for (sal_Int32 i = 0; view.is() && i < sheets->getCount(); ++i) {
        const uno::Reference<sheet::XSpreadsheet> one(sheets->getByIndex(i), uno::UNO_QUERY_THROW);
        if (!is_visible(one)) continue;
        view->setActiveSheet(one);
        return;
    }
}

void HiddenDocument::show_only(const std::string& name) const {
    const auto sheets = sheets_of(document_);
    const auto wanted = sheet_named(document_, name);
    uno::Reference<beans::XPropertySet>(wanted, uno::UNO_QUERY_THROW)
        ->setPropertyValue("IsVisible", Any(true));
    for (sal_Int32 i = 0; i < sheets->getCount(); ++i) {
        const uno::Reference<beans::XPropertySet> one(sheets->getByIndex(i), uno::UNO_QUERY_THROW);
        const uno::Reference<container::XNamed> named(one, uno::UNO_QUERY_THROW);
        if (to_utf8(named->getName()) != name) one->setPropertyValue("IsVisible", Any(false));
    }
}

std::string HiddenDocument::as_web_page() const {
    const Stream stream(context_);
    store(document_, stream, "HTML (StarCalc)");
    return stream.bytes();
}

std::pair<int, int> HiddenDocument::first_cell(const std::string& name) const {
    const auto used = office::area_of(office::used_cells(sheet_named(document_, name)));
    return {used.first.column, used.first.row};
}

std::vector<double> HiddenDocument::widths_of_texts(const std::string& name, int count) const {
    const uno::Reference<com::sun::star::table::XColumnRowRange> sheet(sheet_named(document_, name),
                                                                       uno::UNO_QUERY_THROW);
    const auto columns = sheet->getColumns();
    std::vector<double> widths;
    for (int i = 0; i < count; ++i) {
        const uno::Reference<beans::XPropertySet> column(columns->getByIndex(i), uno::UNO_QUERY_THROW);
        column->setPropertyValue("OptimalWidth", Any(true));
        sal_Int32 width = 0;
        column->getPropertyValue("Width") >>= width;
        widths.push_back(width / 100.0);
    }
    return widths;
}

std::string HiddenDocument::as_file(const std::string& format, const std::string& password) const {
    const Stream stream(context_);
    Properties how =
        properties({{"FilterName", Any(office::filter_of("." + format))}, {"OutputStream", stream.output()}});
    if (!password.empty()) {
        const Any word(to_unicode(password));
        if (format == "pdf") {
            office::add(how, "FilterData",
                        Any(properties({{"EncryptFile", Any(true)}, {"DocumentOpenPassword", word}})));
        } else if (format == "xlsx") {
            uno::Sequence<beans::NamedValue> data(2);
            data[0] = {"CryptoType", Any(rtl::OUString("Standard"))};
            data[1] = {"OOXPassword", word};
            office::add(how, "EncryptionData", Any(data));
        } else {
            office::add(how, "Password", word);
        }
    }
    uno::Reference<frame::XStorable>(document_, uno::UNO_QUERY_THROW)->storeToURL("private:stream", how);
    return stream.bytes();
}

std::string encoded_anew(const Context& context, const std::string& base64) {
    const std::string bytes = from_base64(base64);
    if (bytes.empty()) return {};
    const auto provider = com::sun::star::graphic::GraphicProvider::create(context);
    const Stream read(context, bytes);
    const auto graphic = provider->queryGraphic(properties({{"InputStream", read.input()}}));
    if (!graphic.is()) return {};
    const Stream written(context);
    provider->storeGraphic(graphic, properties({{"MimeType", Any(rtl::OUString("image/png"))},
                                                {"OutputStream", written.output()}}));
    return to_base64(written.bytes());
}

bool has_password(const Spreadsheet& document) {
    const auto arguments = uno::Reference<frame::XModel>(document, uno::UNO_QUERY_THROW)->getArgs();
    if (value_of(arguments, "EncryptionData").hasValue() || value_of(arguments, "Password").hasValue())
        return true;
    const uno::Reference<com::sun::star::lang::XMultiServiceFactory> factory(document, uno::UNO_QUERY_THROW);
    const uno::Reference<beans::XPropertySet> settings(
        factory->createInstance("com.sun.star.document.Settings"), uno::UNO_QUERY_THROW);
    sal_Int32 hash = 0;
    Properties how;
    settings->getPropertyValue("ModifyPasswordHash") >>= hash;
    settings->getPropertyValue("ModifyPasswordInfo") >>= how;
    return hash != 0 || how.getLength() > 0;
}

}  // namespace pullsheet::addin::customer_copy
