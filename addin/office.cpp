// SPDX-License-Identifier: Apache-2.0
#include "addin/office.hpp"

#include <com/sun/star/deployment/PackageInformationProvider.hpp>
#include <com/sun/star/ucb/SimpleFileAccess.hpp>

#include "addin/convert.hpp"

namespace pullsheet::addin {

std::string extension_folder(const Context& context) {
    return to_utf8(com::sun::star::deployment::PackageInformationProvider::get(context)->getPackageLocation(
        "pullsheet"));
}

bool exists(const Context& context, const std::string& url) {
    return com::sun::star::ucb::SimpleFileAccess::create(context)->exists(to_unicode(url));
}

}  // namespace pullsheet::addin
