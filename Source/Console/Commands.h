#pragma once

#include "Console/Tool.h"

namespace valveladder::console {

/// Adds a subcommand: its options, its help, and a callback that sets Tool::job.
using AddCommand = void (*)(CLI::App& app, Tool& tool);

// One file per command, named like it. To add one: write its file, declare it here, and put it into the table
// below, in the order in which --help lists them.
void addInstruments(CLI::App& app, Tool& tool);
void addFingering(CLI::App& app, Tool& tool);
void addDrill(CLI::App& app, Tool& tool);
void addPlan(CLI::App& app, Tool& tool);
void addGuide(CLI::App& app, Tool& tool);
void addSession(CLI::App& app, Tool& tool);
void addBacking(CLI::App& app, Tool& tool);
void addSheet(CLI::App& app, Tool& tool);
void addMark(CLI::App& app, Tool& tool);
void addAssess(CLI::App& app, Tool& tool);
void addEvaluate(CLI::App& app, Tool& tool);
void addTake(CLI::App& app, Tool& tool);
void addFindings(CLI::App& app, Tool& tool);
void addNext(CLI::App& app, Tool& tool);
void addCompare(CLI::App& app, Tool& tool);
void addPlayers(CLI::App& app, Tool& tool);
void addLog(CLI::App& app, Tool& tool);
void addExamples(CLI::App& app, Tool& tool);
void addManual(CLI::App& app, Tool& tool);
void addCompletions(CLI::App& app, Tool& tool);

inline constexpr AddCommand commands[] = {
    addInstruments, addFingering, addDrill,  addPlan,     addGuide,  addSession,    addBacking,
    addSheet,       addMark,      addAssess, addEvaluate, addTake,   addFindings,   addNext,
    addCompare,     addPlayers,   addLog,    addExamples, addManual, addCompletions};

} // namespace valveladder::console
