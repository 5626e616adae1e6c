# SPDX-License-Identifier: Apache-2.0
find_package(rapidcheck REQUIRED)
target_link_libraries(test_properties PRIVATE rapidcheck)
# Calls from one room into another that the sweeps count: counts.hpp.
target_link_options(test_properties PRIVATE LINKER:--wrap=_ZN9pullsheet5boost14corrected_flowEdddNS0_9ReferenceE
                                            LINKER:--wrap=_ZN9pullsheet5boost22compressor_temperatureEdddNS0_3GasE
                                            LINKER:--wrap=_ZNK9pullsheet10statistics13MonotoneCurve6scaledEd)
