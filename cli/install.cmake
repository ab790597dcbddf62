# The program and what it needs beside it. It looks for its fixtures in ../share from where it lies, so the whole may be
# moved or installed under any prefix.
install(TARGETS boughlight RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT program)
install(DIRECTORY ${CMAKE_SOURCE_DIR}/fixtures DESTINATION ${CMAKE_INSTALL_DATADIR}/boughlight COMPONENT program)
install(DIRECTORY ${CMAKE_SOURCE_DIR}/scenes DESTINATION ${CMAKE_INSTALL_DATADIR}/boughlight COMPONENT program
  PATTERN "*.png" EXCLUDE)
install(FILES copyright DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
# In folders as in the source, so that they find each other and their pictures.
install(DIRECTORY guides reference DESTINATION ${CMAKE_INSTALL_DOCDIR}/cli COMPONENT program)
install(FILES copyright DESTINATION ${CMAKE_INSTALL_DOCDIR}/cli COMPONENT program)
file(GLOB pictures ${CMAKE_SOURCE_DIR}/scenes/*.png)
install(FILES ${pictures} DESTINATION ${CMAKE_INSTALL_DOCDIR}/scenes COMPONENT program)
install(FILES ${CMAKE_SOURCE_DIR}/README.md ${CMAKE_SOURCE_DIR}/DEVELOPERS.md
  DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(FILES ${CMAKE_SOURCE_DIR}/tests/published/README.md
  DESTINATION ${CMAKE_INSTALL_DOCDIR}/tests/published COMPONENT program)
install(FILES copyright DESTINATION ${CMAKE_INSTALL_DOCDIR}-dev COMPONENT development)

# The program tells these of itself, so they are made by it when it is installed.
set(told ${CMAKE_CURRENT_BINARY_DIR}/told)
install(CODE "
  file(MAKE_DIRECTORY ${told})
  function(tell file)
    execute_process(COMMAND $<TARGET_FILE:boughlight> \${ARGN} OUTPUT_FILE ${told}/\${file} COMMAND_ERROR_IS_FATAL ANY)
  endfunction()
  tell(boughlight.1 reference commands --man)
  tell(boughlight-scene.5 reference scene --man)
  tell(boughlight-fixture.5 reference fixture --man)
  tell(boughlight-material.5 reference material --man)
  tell(boughlight-quantities.7 reference quantities --man)
  tell(boughlight completion bash)
  tell(_boughlight completion zsh)
  tell(boughlight.fish completion fish)
" COMPONENT program)
foreach(page boughlight.1 boughlight-scene.5 boughlight-fixture.5 boughlight-material.5 boughlight-quantities.7)
  string(REGEX MATCH "[0-9]$" part ${page})
  install(FILES ${told}/${page} DESTINATION ${CMAKE_INSTALL_MANDIR}/man${part} COMPONENT program)
endforeach()
install(FILES ${told}/boughlight DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT program)
install(FILES ${told}/_boughlight DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions COMPONENT program)
install(FILES ${told}/boughlight.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d
  COMPONENT program)
