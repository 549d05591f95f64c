#include "Screen/TodayPanel.h"

#include "Screen/Style.h"
#include "Screen/Words.h"

namespace valveladder {

namespace {

enum Column { timeColumn = 1, tempoColumn, notesColumn, faultsColumn, evenColumn, verdictColumn, noteColumn };

bool sameTakes(const std::vector<TakeSummary>& a, const std::vector<TakeSummary>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const TakeSummary& x, const TakeSummary& y) {
        return x.header.id == y.header.id && x.state == y.state && x.playerNote == y.playerNote;
    });
}

} // namespace

TodayPanel::TodayPanel() {
    setTitle("Takes of today");
    auto& header = table.getHeader();
    header.addColumn("Time", timeColumn, 70);
    header.addColumn("Tempo", tempoColumn, 130);
    header.addColumn("Right", notesColumn, 70);
    header.addColumn("Faults", faultsColumn, 190);
    header.addColumn("Unevenness", evenColumn, 95);
    header.addColumn("Result", verdictColumn, 130);
    header.addColumn("Your note", noteColumn, 180);
    table.setColour(juce::ListBox::backgroundColourId, style::panel);
    table.setRowHeight(style::rowHeight);
    table.setTitle("Takes of today");
    table.setHelpText("Return or a double click on a take writes a note to it");
    addAndMakeVisible(table);
}

TodayPanel::~TodayPanel() {
    table.setModel(nullptr);
}

void TodayPanel::show(const std::shared_ptr<const SessionView>& view) {
    std::vector<TakeSummary> newest(view->today.rbegin(), view->today.rend());
    if (sameTakes(newest, takes))
        return;
    takes = std::move(newest);
    table.updateContent();
    table.repaint();
}

void TodayPanel::resized() {
    table.setBounds(getLocalBounds());
}

int TodayPanel::getNumRows() {
    return static_cast<int>(takes.size());
}

const TakeSummary* TodayPanel::at(int row) const {
    const bool there = row >= 0 && row < static_cast<int>(takes.size());
    return there ? &takes[static_cast<std::size_t>(row)] : nullptr;
}

void TodayPanel::paintRowBackground(juce::Graphics& g, int row, int, int, bool selected) {
    g.fillAll(selected ? style::edge : (row % 2 == 0 ? style::panel : style::panel.brighter(0.05F)));
}

void TodayPanel::paintCell(juce::Graphics& g, int row, int column, int width, int height, bool) {
    g.setColour(style::text);
    g.setFont(style::font(15.0F));
    g.drawFittedText(getCellText(row, column), 6, 0, width - 8, height, juce::Justification::centredLeft, 1);
}

juce::String TodayPanel::getCellText(int row, int column) const {
    const TakeSummary* take = at(row);
    if (take == nullptr)
        return {};
    const words::TakeLine line = words::takeLine(*take);
    switch (column) {
    case timeColumn:
        return juce::Time(take->header.startedUtc).formatted("%H:%M:%S");
    case tempoColumn:
        return juce::String::fromUTF8(line.tempo.c_str());
    case notesColumn:
        return juce::String(line.notes);
    case faultsColumn:
        return juce::String(line.faults);
    case evenColumn:
        return juce::String(line.even);
    case verdictColumn:
        return juce::String(line.verdict);
    case noteColumn:
        return juce::String::fromUTF8(take->playerNote.c_str());
    default:
        return {};
    }
}

void TodayPanel::returnKeyPressed(int row) {
    if (const TakeSummary* take = at(row); take != nullptr && onNoteWanted)
        onNoteWanted(*take);
}

void TodayPanel::cellDoubleClicked(int row, int, const juce::MouseEvent&) {
    returnKeyPressed(row);
}

} // namespace valveladder
