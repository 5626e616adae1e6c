// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/files.hpp"

#include <fmt/format.h>

#include <rtl/uuid.h>
#include <algorithm>
#include <com/sun/star/io/SequenceInputStream.hpp>
#include <com/sun/star/ucb/IOErrorCode.hpp>
#include <com/sun/star/ucb/InsertCommandArgument.hpp>
#include <com/sun/star/ucb/InteractiveIOException.hpp>
#include <com/sun/star/ucb/NameClash.hpp>
#include <com/sun/star/ucb/NameClashException.hpp>
#include <com/sun/star/ucb/SimpleFileAccess.hpp>
#include <com/sun/star/ucb/TransferInfo.hpp>
#include <com/sun/star/ucb/UniversalContentBroker.hpp>
#include <com/sun/star/ucb/XCommandProcessor.hpp>
#include <cppuhelper/exc_hlp.hxx>
#include <osl/file.hxx>
#include <rtl/uri.hxx>

#include "addin/convert.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

namespace uno = com::sun::star::uno;
namespace ucb = com::sun::star::ucb;

void execute(const Context& context, const std::string& url, const char* name, const uno::Any& argument) {
    const auto broker = ucb::UniversalContentBroker::create(context);
    const uno::Reference<ucb::XCommandProcessor> content(
        broker->queryContent(broker->createContentIdentifier(to_unicode(url))), uno::UNO_QUERY_THROW);
    ucb::Command command;
    command.Name = rtl::OUString::createFromAscii(name);
    command.Handle = -1;
    command.Argument = argument;
    content->execute(command, content->createCommandIdentifier(), {});
}

NotWritten::Why reason(const uno::Any& failure) {
    if (failure.isExtractableTo(cppu::UnoType<ucb::NameClashException>::get()))
        return NotWritten::Why::exists;
    ucb::InteractiveIOException said;
    if (!(failure >>= said)) return NotWritten::Why::other;
    switch (said.Code) {
        case ucb::IOErrorCode_OUT_OF_DISK_SPACE: return NotWritten::Why::no_space;
        case ucb::IOErrorCode_WRITE_PROTECTED:
        case ucb::IOErrorCode_ACCESS_DENIED: return NotWritten::Why::write_protected;
        case ucb::IOErrorCode_ALREADY_EXISTING: return NotWritten::Why::exists;
        default: return NotWritten::Why::other;
    }
}

void write_new(const Context& context, const std::string& url, const std::string& bytes) {
    const uno::Sequence<sal_Int8> data(reinterpret_cast<const sal_Int8*>(bytes.data()),
                                       static_cast<sal_Int32>(bytes.size()));
    ucb::InsertCommandArgument argument;
    argument.Data.set(com::sun::star::io::SequenceInputStream::createStreamFromSequence(context, data),
                      uno::UNO_QUERY_THROW);
    argument.ReplaceExisting = false;
    execute(context, url, "insert", uno::Any(argument));
    const auto access = ucb::SimpleFileAccess::create(context);
    if (access->getSize(to_unicode(url)) != data.getLength())
        throw NotWritten(NotWritten::Why::no_space, "the file is incomplete");
}

// On a full disk, creating the directory entry may fail before the data does, with another error. Each file
// occupies whole blocks, and its directory entry may need one more.
bool has_room(const std::vector<File>& files) {
    constexpr sal_uInt64 block = 4096;
    sal_uInt64 needed = 0;
    for (const File& file : files) needed += (file.bytes.size() / block + 2) * block;
    osl::VolumeInfo volume(osl_VolumeInfo_Mask_FreeSpace);
    const std::string folder = files.front().url.substr(0, files.front().url.rfind('/'));
    return osl::Directory::getVolumeInfo(to_unicode(folder), volume) != osl::FileBase::E_None ||
           !volume.isValid(osl_VolumeInfo_Mask_FreeSpace) || volume.getFreeSpace() >= needed;
}

NotWritten::Why looked_at_again(NotWritten::Why why, const Context& context, const std::vector<File>& files) {
    const bool is_one_there =
        std::any_of(files.begin(), files.end(), [&](const File& file) { return exists(context, file.url); });
    if (why == NotWritten::Why::exists && !is_one_there) why = NotWritten::Why::other;
    return why == NotWritten::Why::other && !has_room(files) ? NotWritten::Why::no_space : why;
}

// A name that no other file has.
std::string name_of_a_part() {
    sal_uInt8 bytes[16];
    rtl_createUuid(bytes, nullptr, false);
    std::string name = ".pullsheet-";
    for (const sal_uInt8 byte : bytes) name += fmt::format("{:02x}", byte);
    return name + ".part";
}

void remove_files(const Context& context, const std::vector<std::string>& urls) {
    for (const std::string& url : urls) try {
            if (exists(context, url)) ucb::SimpleFileAccess::create(context)->kill(to_unicode(url));
        } catch (const uno::Exception&) {
            // Where writing fails, removing may fail too.
        }
}

}  // namespace

void write_files(const Context& context, const std::vector<File>& files) {
    std::vector<std::string> made;
    try {
        for (const File& file : files) {
            made.push_back(file.url.substr(0, file.url.rfind('/') + 1) + name_of_a_part());
            write_new(context, made.back(), file.bytes);
        }
        for (std::size_t i = 0; i < files.size(); ++i) {
            const auto slash = files[i].url.rfind('/');
            const rtl::OUString name = rtl::Uri::decode(to_unicode(files[i].url.substr(slash + 1)),
                                                        rtl_UriDecodeWithCharset, RTL_TEXTENCODING_UTF8);
            const ucb::TransferInfo move(true, to_unicode(made[i]), name, ucb::NameClash::ERROR);
            execute(context, files[i].url.substr(0, slash), "transfer", uno::Any(move));
            made[i] = files[i].url;
        }
    } catch (const uno::Exception& failure) {
        const NotWritten::Why why = reason(cppu::getCaughtException());
        const std::string said = to_utf8(failure.Message);
        remove_files(context, made);
        throw NotWritten(looked_at_again(why, context, files), said);
    } catch (const NotWritten&) {
        remove_files(context, made);
        throw;
    }
}

}  // namespace pullsheet::addin::customer_copy
