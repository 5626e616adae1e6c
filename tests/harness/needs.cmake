# SPDX-License-Identifier: Apache-2.0
# The command itself is run too, for its exit codes and its two outputs.
target_compile_definitions(test_harness PRIVATE PULLSHEET_COMMAND="$<TARGET_FILE:pullsheet>")
add_dependencies(test_harness pullsheet)
find_package(nlohmann_json REQUIRED)
target_link_libraries(test_harness PRIVATE nlohmann_json::nlohmann_json util)
