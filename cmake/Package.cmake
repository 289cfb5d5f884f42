# `cpack` in the build folder makes dapple_VERSION_ARCHITECTURE.deb for Debian 12.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME dapple)
set(CPACK_PACKAGE_CONTACT "The Dapple maintainers <dapple@localhost>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_RELEASE 1)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION "ultraviolet, light and warmth for reptile and amphibian enclosures
 Computes the light field of an enclosure, spectrally and in three dimensions,
 fits it to a keeper's own meter readings, judges what each animal can choose
 in it, finds the smallest change that puts it right, follows lamps as they
 age, and keeps the record of a collection.
 .
 Holds the commands and the web application, which it serves on this machine
 or, behind accounts, for a team.")
# Libraries by dpkg-shlibdeps; these two are read as files, which it cannot see.
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS "fonts-dejavu-core, tzdata")
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "xdg-utils")
set(CPACK_DEBIAN_PACKAGE_SUGGESTS "postgresql")
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA
    "${CMAKE_SOURCE_DIR}/packaging/debian/conffiles;${CMAKE_SOURCE_DIR}/packaging/debian/postinst;${CMAKE_SOURCE_DIR}/packaging/debian/prerm;${CMAKE_SOURCE_DIR}/packaging/debian/postrm")
include(CPack)
