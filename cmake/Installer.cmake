# The installer for Windows, by NSIS: the programs into a folder of their own, the VST3 where hosts look (Steinberg: "Plug-in
# locations", <Common Files>/VST3). What the player keeps lies in %APPDATA%\Valve Ladder and is left alone.
set(CPACK_GENERATOR NSIS)
set(CPACK_SYSTEM_NAME win64)
set(CPACK_NSIS_INSTALL_ROOT "$PROGRAMFILES64")
set(CPACK_NSIS_DISPLAY_NAME "Valve Ladder")
set(CPACK_NSIS_PACKAGE_NAME "Valve Ladder")
set(CPACK_NSIS_EXECUTABLES_DIRECTORY .)
# What it puts is for 64 bits, and so is the installer: it needs nothing of 32 bits, and its entries lie where others look.
set(CPACK_NSIS_DEFINES "Target amd64-unicode")
set(CPACK_NSIS_ENABLE_UNINSTALL_BEFORE_INSTALL ON)
set(CPACK_NSIS_UNINSTALL_NAME Uninstall)
set(CPACK_NSIS_MUI_FINISHPAGE_RUN valve-ladder-standalone.exe)
set(CPACK_PACKAGE_EXECUTABLES valve-ladder-standalone "Valve Ladder")
set(bundle "$COMMONFILES64\\VST3\\Valve Ladder.vst3")
set(CPACK_NSIS_EXTRA_INSTALL_COMMANDS "
  CreateDirectory '$COMMONFILES64\\VST3'
  RMDir /r '${bundle}'
  CopyFiles /SILENT '$INSTDIR\\VST3\\Valve Ladder.vst3' '$COMMONFILES64\\VST3'
  RMDir /r '$INSTDIR\\VST3'
")
set(CPACK_NSIS_EXTRA_UNINSTALL_COMMANDS "
  RMDir /r '${bundle}'
")
