# SPDX-License-Identifier: Apache-2.0
target_compile_definitions(test_rooms PRIVATE PULLSHEET_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
