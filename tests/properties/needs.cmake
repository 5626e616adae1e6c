# SPDX-License-Identifier: Apache-2.0
find_package(rapidcheck REQUIRED)
target_link_libraries(test_properties PRIVATE rapidcheck)
