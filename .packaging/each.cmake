# SPDX-License-Identifier: Apache-2.0
# Read by cpack for each format: the Debian package has a changelog of its own and, as it installs the extension, no .oxt.
set(ENV{PULLSHEET_PACKING} 1)
if(CPACK_GENERATOR STREQUAL "DEB")
  list(GET CPACK_INSTALL_CMAKE_PROJECTS 0 build)
  set(CPACK_INSTALL_CMAKE_PROJECTS "${build};pullsheet;Unspecified;/;${build};pullsheet;debian;/")
  set(CPACK_PRE_BUILD_SCRIPTS ${CMAKE_CURRENT_LIST_DIR}/debian/before_packing.cmake)
endif()
