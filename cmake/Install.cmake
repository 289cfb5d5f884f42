# Where the program and what goes with it lie once installed. The manual page is made from the program's own help, so
# that it can not name a command or an option that is not there.
include(GNUInstallDirs)
set(packaging "${CMAKE_SOURCE_DIR}/packaging")
set(made "${CMAKE_BINARY_DIR}/packaging")

add_custom_command(
  OUTPUT "${made}/dapple.1"
  COMMAND "${CMAKE_COMMAND}" -E make_directory "${made}"
  COMMAND sh "${packaging}/manual.sh" "$<TARGET_FILE:dapple>" "${packaging}/manual.in" > "${made}/dapple.1.part"
  COMMAND "${CMAKE_COMMAND}" -E rename "${made}/dapple.1.part" "${made}/dapple.1"
  DEPENDS dapple "${packaging}/manual.sh" "${packaging}/manual.in"
  COMMENT "Writing the manual page" VERBATIM)
add_custom_command(
  OUTPUT "${made}/dapple.1.gz" "${made}/changelog.gz"
  COMMAND sh -c "gzip -9nc dapple.1 > dapple.1.gz"
  COMMAND sh -c "gzip -9nc '${CMAKE_SOURCE_DIR}/CHANGELOG.md' > changelog.gz"
  DEPENDS "${made}/dapple.1" "${CMAKE_SOURCE_DIR}/CHANGELOG.md"
  WORKING_DIRECTORY "${made}" VERBATIM)
# Not part of `ninja dapple`, which is all that ./run waits for; `cmake --install` and `cpack` want it built.
add_custom_target(installable ALL DEPENDS "${made}/dapple.1.gz" "${made}/changelog.gz")

install(TARGETS dapple RUNTIME DESTINATION "${CMAKE_INSTALL_BINDIR}")
install(FILES "${made}/dapple.1.gz" DESTINATION "${CMAKE_INSTALL_MANDIR}/man1")
install(FILES "${packaging}/dapple.bash" DESTINATION "${CMAKE_INSTALL_DATADIR}/bash-completion/completions" RENAME dapple)
install(FILES "${packaging}/dapple.desktop" DESTINATION "${CMAKE_INSTALL_DATADIR}/applications")
install(FILES "${packaging}/dapple.metainfo.xml" DESTINATION "${CMAKE_INSTALL_DATADIR}/metainfo"
        RENAME invalid.dapple.dapple.metainfo.xml)
install(FILES "${CMAKE_SOURCE_DIR}/web/public/icon.svg"
        DESTINATION "${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps" RENAME dapple.svg)
install(FILES "${made}/changelog.gz" "${packaging}/copyright" "${packaging}/dependencies.spdx.json"
        DESTINATION "${CMAKE_INSTALL_DOCDIR}")
install(DIRECTORY "${CMAKE_SOURCE_DIR}/examples" DESTINATION "${CMAKE_INSTALL_DOCDIR}")
# systemd looks under /usr/lib whatever the architecture's folder for libraries is called.
install(FILES "${packaging}/dapple.service" DESTINATION lib/systemd/system)
install(FILES "${packaging}/dapple.sysusers" DESTINATION lib/sysusers.d RENAME dapple.conf)
install(FILES "${packaging}/dapple.default" DESTINATION "${CMAKE_INSTALL_FULL_SYSCONFDIR}/default" RENAME dapple)
