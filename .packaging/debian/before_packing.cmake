# SPDX-License-Identifier: Apache-2.0
# Run by cpack on what will be in the Debian package: scripts of the reference that Debian's libjs-sphinxdoc also has become
# links to them, as Debian wants it.
file(GLOB scripts ${CPACK_TEMPORARY_INSTALL_DIRECTORY}/usr/share/doc/pullsheet/html/_static/*.js)
foreach(script ${scripts})
  cmake_path(GET script FILENAME name)
  set(shared /usr/share/javascript/sphinxdoc/1.0/${name})
  if(EXISTS ${shared})
    file(SHA256 ${script} ours)
    file(SHA256 ${shared} shared_hash)
    if(ours STREQUAL shared_hash)
      file(REMOVE ${script})
      file(CREATE_LINK ../../../../javascript/sphinxdoc/1.0/${name} ${script} SYMBOLIC)
    endif()
  endif()
endforeach()
