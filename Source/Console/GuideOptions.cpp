#include "Console/GuideOptions.h"

#include "Console/Options.h"

namespace valveladder::console {

namespace {

bool isChannel(int channel) {
    return channel >= 1 && channel <= 16;
}

} // namespace

void GuideOptions::add(CLI::App& app) {
    const char* group = "Guide";
    app.add_flag("--written", written, "Written pitch in place of sounding pitch")->group(group);
    app.add_flag("--no-notes", noNotes, "Leave out the notes")->group(group);
    app.add_flag("--no-valves", noValves, "Leave out the valve lanes (controllers 20 to 23)")->group(group);
    addChoice(app, "--click", click,
              {{"off", ClickWhen::off}, {"count-in", ClickWhen::countInOnly}, {"always", ClickWhen::always}},
              "When it clicks")
        ->group(group);
    app.add_option("--note-channel", noteChannel, "MIDI channel of notes and valve lanes (1)")
        ->option_text("N")
        ->group(group);
    app.add_option("--click-channel", clickChannel, "MIDI channel of the click (10)")
        ->option_text("N")
        ->group(group);
}

Result<GuideSettings> GuideOptions::settings() const {
    if (!isChannel(noteChannel) || !isChannel(clickChannel))
        return Problem{
            fmt::format("there is no MIDI channel {}", isChannel(noteChannel) ? clickChannel : noteChannel),
            isChannel(noteChannel) ? "--click-channel" : "--note-channel", "Choose from 1 to 16"};
    GuideSettings settings;
    settings.notes = !noNotes;
    settings.soundingPitch = !written;
    settings.valveLanes = !noValves;
    settings.click = click.value_or(settings.click);
    settings.noteChannel = noteChannel;
    settings.clickChannel = clickChannel;
    return settings;
}

} // namespace valveladder::console
