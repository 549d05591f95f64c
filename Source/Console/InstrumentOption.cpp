#include "Console/InstrumentOption.h"

#include "Console/Output.h"
#include "Records/Json.h"

#include <filesystem>

namespace valveladder::console {

CLI::Option* InstrumentOption::add(CLI::App& app) {
    return app
        .add_option("-i,--instrument", given,
                    "An id that 'valve-ladder instruments' lists, or a JSON file of your own instrument "
                    "(trumpet-b-flat where none is given)")
        ->option_text("ID");
}

Result<Instrument> InstrumentOption::find() const {
    if (const Instrument* known = findInstrument(given))
        return *known;
    std::error_code error;
    if (!std::filesystem::exists(given, error))
        return Problem{"there is no instrument of this id, and no file of this name", given,
                       "'valve-ladder instruments' lists the ids"};
    auto text = readTextFile(given);
    if (!text)
        return text.problem();
    auto own = instrumentFromJson(text.value());
    auto sound = own ? checked(own.value()) : own;
    if (!sound)
        return Problem{sound.problem().what, given + ", " + sound.problem().where, sound.problem().remedy};
    return sound;
}

} // namespace valveladder::console
