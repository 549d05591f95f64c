# Which test shows which promise: pairs of a ctest label and a regular expression over "Suite.Name".
set(shownBy
    session-2 "^FingeringChart"
    session-3 "^SmfSpecification|^SmfOutsideReader"
    session-4 "^GuideStories"
    session-5 "HostedPlugin|^ArdourHost"
    session-6 "^AudioThread"
    session-7 "^TempoPlanSession"
    session-8 "^LogKill"
    listening-1 "^SoundNotes"
    listening-2 "^MidiTiming|^SoundOnsets"
    listening-3 "^SoundFaults"
    listening-4 "^SoundChangeover"
    listening-5 "^SoundPitch"
    listening-6 "^SoundRhythm"
    listening-7 "^SoundMemory"
    listening-8 "^SoundBadInput|^SoundMemory|^ReaderFuzz.(Sound|Annotation)"
    findings-1 "^FindingsPower"
    findings-2 "^FindingsFalseAlarm"
    findings-3 "^FindingsIdentifiable"
    findings-4 "^FindingsCoverage"
    findings-5 "^FindingsStatistics"
    findings-6 "^FindingsCost"
    findings-7 "^FindingsWording|^ToolFindings"
    claims-daily-drill "^ClaimsDailyDrill"
    claims-false-alarm "^ClaimsFalseAlarm"
    claims-intervals "^ClaimsIntervals"
    claims-told-apart "^ClaimsToldApart"
    claims-trend "^ClaimsTrend"
    claims-compare "^ClaimsCompare"
    claims-cost "^FindingsCost"
    files-1 "^MusicXmlOutside"
    files-2 "^SheetOutside|^PaperSheet|^PartLayout"
    files-3 "^SmfOutsideReader|^MuseScoreMidi|^Backing"
    files-4 "^FingeringPath"
    files-5 "^OwnStudy|^ScreenPart"
    files-6 "^ReaderFuzz|^MusicXmlRefuses"
    claims-fingerings "^SessionFingerings|^ToolNextFingerings"
    claims-plan "^SessionPlan|^ToolNextPlan|^DemoPlan"
    screen-1 "^ScreenPictures"
    screen-3 "^ScreenContrast|^ScreenTargets|^ScreenKeyboard|^ScreenNames|^ScreenKeys"
    screen-4 "^EngravingOutside"
    screen-5 "^ScreenLife"
    link-restart "^LinkRestart"
    lv2-position "^SparsePosition|^Lv2Position|HostMatrix.*Lv2$|^Lv2Matrix"
    pedal-edges "^PedalEdges"
    host-matrix "HostMatrix|^Lv2Host|^Lv2Metadata"
    log-first-kill "^LogFirstKill"
    take-cost-flat "^TakeCostFlat"
    foreign-database "^ForeignDatabase"
    comma-locale "^CommaLocale"
    console-attack "^ConsoleAttack"
    kept-sound-shared "^KeptSound(Shared|Feed)"
    long-life "^LongLife"
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
    if(sanitizedBuild)
        list(APPEND labels session-9) # the whole suite under sanitizers is the promise
    endif()
    if(labels)
        set_tests_properties(${test} PROPERTIES LABELS "${labels}")
    endif()
endforeach()
