#include "Log/Program.h"

#include "Base/Version.h"
#include "Log/LogFile.h"
#include "Log/LogStore.h"
#include "Log/SqlProblem.h"

namespace valveladder {

void noteProgram(SQLite::Database& log) {
    SQLite::Statement note(log, "INSERT INTO meta (key, value) VALUES ('program', ?) "
                                "ON CONFLICT (key) DO UPDATE SET value = excluded.value");
    note.bind(1, std::string(programVersion()));
    note.exec();
}

Result<Writer> lastWriterOf(const std::filesystem::path& log) {
    return guarded(log, [&] {
        const LogForReading opened = openForReading(log, LogStore::busyMs);
        Writer writer;
        writer.schema = opened.schemaInFile;
        SQLite::Statement select(opened.database, "SELECT value FROM meta WHERE key = 'program'");
        if (select.executeStep())
            writer.program = select.getColumn(0).getString();
        return writer;
    });
}

} // namespace valveladder
