; What the Windows installer does beside unpacking: it offers Pilot Bench for data packages and captures under "Open with", and never makes it
; the first program for zip and CSV files, which belong to others as well. The uninstaller takes all of it back.

!macro offerFor EXTENSION CLASS NAME
  WriteRegStr SHELL_CONTEXT "Software\Classes\${CLASS}" "" "${NAME}"
  WriteRegStr SHELL_CONTEXT "Software\Classes\${CLASS}\DefaultIcon" "" "$INSTDIR\${APP_EXECUTABLE_FILENAME},0"
  WriteRegStr SHELL_CONTEXT "Software\Classes\${CLASS}\shell\open\command" "" '"$INSTDIR\${APP_EXECUTABLE_FILENAME}" "%1"'
  WriteRegStr SHELL_CONTEXT "Software\Classes\.${EXTENSION}\OpenWithProgids" "${CLASS}" ""
!macroend

!macro offerNoLongerFor EXTENSION CLASS
  DeleteRegValue SHELL_CONTEXT "Software\Classes\.${EXTENSION}\OpenWithProgids" "${CLASS}"
  DeleteRegKey SHELL_CONTEXT "Software\Classes\${CLASS}"
!macroend

!macro customInstall
  !insertmacro offerFor zip PilotBench.Package "Pilot Bench data package"
  !insertmacro offerFor csv PilotBench.Capture "Pilot Bench capture"
!macroend

!macro customUnInstall
  !insertmacro offerNoLongerFor zip PilotBench.Package
  !insertmacro offerNoLongerFor csv PilotBench.Capture
!macroend
