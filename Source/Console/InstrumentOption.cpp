#include "Console/InstrumentOption.h"

#include "Base/Path.h"
#include "Console/Options.h"
#include "Console/Output.h"
#include "Records/Json.h"

#include <filesystem>

namespace valveladder::console {

std::vector<std::string> instrumentIds() {
    std::vector<std::string> ids;
    for (const Instrument& instrument : catalogue())
        ids.push_back(instrument.id);
    return ids;
}

CLI::Option* InstrumentOption::add(CLI::App& app) {
    CLI::Option* option =
        app.add_option("-i,--instrument", given,
                       "An id that 'valve-ladder instruments' lists, or a JSON file of your own instrument "
                       "(trumpet-b-flat where none is given)");
    setChoices(*option, instrumentIds());
    return option->option_text("ID");
}

Result<Instrument> InstrumentOption::find() const {
    if (const Instrument* known = findInstrument(given))
        return *known;
    std::error_code error;
    if (!std::filesystem::exists(pathOf(given), error))
        return Problem{"there is no instrument of this id, and no file of this name", given,
                       "'valve-ladder instruments' lists the ids"};
    auto text = readTextFile(given);
    if (!text)
        return text.problem();
    auto own = instrumentFromJson(text.value());
    auto valid = own ? checked(own.value()) : own;
    if (!valid)
        return inFile(valid.problem(), given);
    return valid;
}

} // namespace valveladder::console
