# Which test shows which promise: pairs of a ctest label and a regular expression over "Suite.Name".
set(shownBy
    fingering-chart "^FingeringChart"
    smf-specification "^SmfSpecification|^SmfOutsideReader"
    guide-stories "^GuideStories"
    hosted-plugin "HostedPlugin|^ArdourHost"
    audio-thread "^AudioThread"
    tempo-days "^TempoPlanSession"
    log-kill "^LogKill"
    heard-notes "^SoundNotes"
    heard-onsets "^MidiTiming|^SoundOnsets"
    heard-faults "^SoundFaults"
    heard-changeovers "^SoundChangeover"
    heard-fingers-apart "^SoundFingersApart|^FingersApart|^MidiSensors"
    heard-shapes "^SoundShapes"
    heard-unplaced "^SoundUnplaced"
    heard-restart "^SoundRestarts|^Restarts"
    heard-crack "^SoundCracks"
    heard-pitch "^SoundPitch"
    heard-rhythm "^SoundRhythm"
    heard-cost "^SoundMemory"
    heard-real-notes "^SoundRealNotes"
    heard-connected "^SoundConnected"
    heard-room "^SoundRoom"
    heard-breath "^SoundBreaths"
    heard-second-player "^SoundSecondPlayer"
    corrections "^Corrections|^LogCorrections|^SessionCorrections|^ToolCorrections|^WindowCorrections"
    heard-surely "^HeardSurely|^ReportLikelihood|^Words.SayHowSure"
    heard-bad-input "^SoundBadInput|^SoundMemory|^ReaderFuzz.(Sound|Annotation)"
    findings-power "^FindingsPower"
    findings-false-alarm "^FindingsFalseAlarm"
    findings-identifiable "^FindingsIdentifiable"
    findings-coverage "^FindingsCoverage"
    findings-statistics "^FindingsStatistics"
    findings-cost "^FindingsCost"
    findings-late-finger "^LastFingers|^ClaimsLastFinger|^ToolFindings.LastFinger"
    findings-wording "^FindingsWording|^ToolFindings"
    words "^Words[.]"
    claims-daily-drill "^ClaimsDailyDrill"
    claims-false-alarm "^ClaimsFalseAlarm"
    claims-intervals "^ClaimsIntervals"
    claims-told-apart "^ClaimsToldApart"
    claims-trend "^ClaimsTrend"
    claims-compare "^ClaimsCompare"
    claims-cost "^FindingsCost"
    musicxml-outside "^MusicXmlOutside"
    sheet-outside "^SheetOutside|^PaperSheet|^PartLayout"
    midi-outside "^SmfOutsideReader|^MuseScoreMidi|^Backing"
    fingering-path "^FingeringPath"
    piece-study "^OwnStudy|^ScreenPart"
    reader-fuzz "^ReaderFuzz|^MusicXmlRefuses"
    claims-fingerings "^SessionFingerings|^ToolNextFingerings"
    claims-plan "^SessionPlan|^ToolNextPlan|^DemoPlan"
    window-spelling "^Spelling\\.|ScreenValues.PitchNames"
    screen-pictures "^ScreenPictures"
    screen-reach "^ScreenContrast|^ScreenTargets|^ScreenKeyboard|^ScreenNames|^ScreenKeys"
    engraving-outside "^EngravingOutside"
    screen-life "^ScreenLife"
    window-keyboard "^WindowKeyboard"
    window-hosts "^WindowHosts"
    window-problems "^WindowProblems"
    window-fits "^WindowFits"
    window-alone "^WindowAlone"
    window-words "^WindowWords"
    window-look-round "^LookRound"
    window-first-minute "^FirstSteps"
    link-restart "^LinkRestart"
    lv2-position "^SparsePosition|^Lv2Position|HostMatrix.*Lv2$"
    pedal-edges "^PedalEdges"
    host-matrix "HostMatrix|^PlayedTempo|^Lv2Host|^Lv2Metadata|^Insertions"
    log-first-kill "^LogFirstKill"
    take-cost-flat "^TakeCostFlat"
    foreign-database "^ForeignDatabase"
    comma-locale "^CommaLocale"
    console-attack "^ConsoleAttack"
    kept-sound-shared "^KeptSound(Shared|Feed)"
    long-life "^LongLife"
    many-machines "^ManyMachines"
    upgrade "^LogMigration|^State.(Fixtures|ProcessorBrings)|^ToolUpgrade"
    window-click "^OwnSound|^AudioThread.OwnSound|^SessionGuideBack|^GuideEcho|^OwnMessages"
)

list(LENGTH shownBy shownLength)
foreach(test IN LISTS shownTests)
    set(labels)
    math(EXPR last "${shownLength} - 1")
    foreach(i RANGE 0 ${last} 2)
        math(EXPR j "${i} + 1")
        list(GET shownBy ${i} label)
        list(GET shownBy ${j} pattern)
        if(test MATCHES "${pattern}")
            list(APPEND labels ${label})
        endif()
    endforeach()
    if(test MATCHES "^LinkRestart|^HostCalls")
        # Link finds every other one on the network, and so in a test beside it.
        set_tests_properties(${test} PROPERTIES RESOURCE_LOCK link)
    endif()
    if(sanitizedBuild)
        set_tests_properties(${test} PROPERTIES ENVIRONMENT_MODIFICATION
            "TSAN_OPTIONS=set:suppressions=${CMAKE_CURRENT_LIST_DIR}/thread-sanitizer.txt;LSAN_OPTIONS=set:print_suppressions=0:suppressions=${CMAKE_CURRENT_LIST_DIR}/leak-sanitizer.txt")
        list(APPEND labels sanitizers) # the whole suite under sanitizers is the promise
    endif()
    if(labels)
        set_tests_properties(${test} PROPERTIES LABELS "${labels}")
    endif()
endforeach()
