#include "Screen/ExportView.h"
#include "Screen/InventedLog.h"
#include "Screen/Look.h"
#include "Screen/RungPlace.h"
#include "Screen/Snapshot.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

/// The rung place in a window's look, standing at the second note.
struct Stage {
    Look look;
    juce::Component parent;
    RungPlace place;

    Stage() {
        parent.setLookAndFeel(&look);
        parent.addAndMakeVisible(place);
        parent.setSize(900, 484);
        place.setBounds(parent.getLocalBounds());
        const SessionView view = pictures::runningView("trumpet-b-flat");
        ClockReading clock;
        clock.playing = true;
        clock.ppq = 4.7;
        place.show(playModel(view, clock, true, InputSeen::something), {});
    }
    ~Stage() { parent.setLookAndFeel(nullptr); }
};

} // namespace

TEST(ScreenExport, SvgLooksLikeTheWindow) {
    Stage stage;
    const juce::String svg = svgOf(stage.place);
    EXPECT_FALSE(svg.contains("<image")); // all shapes, no pixels
    const auto xml = juce::parseXML(svg);
    ASSERT_NE(xml, nullptr);
    const auto drawing = juce::Drawable::createFromSVG(*xml);
    ASSERT_NE(drawing, nullptr);
    juce::Image drawn(juce::Image::ARGB, 900, 484, true, juce::SoftwareImageType());
    {
        juce::Graphics g(drawn);
        drawing->draw(g, 1.0F);
    }
    pictures::save(drawn, "export-svg");
    const juce::Image window = pictures::render(stage.place, 1.0F);
    const auto difference = pictures::difference(drawn, window);
    ASSERT_TRUE(difference.sameSize);
    EXPECT_LT(difference.meanStep, 1.5);
    EXPECT_LT(difference.farShare, 0.01);
}

TEST(ScreenExport, WritesPngOfTwiceTheSizeAndRefusesOtherEndings) {
    Stage stage;
    const host::TempLog place;
    const juce::File folder(place.folder().string());
    const juce::File png = folder.getChildFile("view.png");
    ASSERT_TRUE(exportView(stage.place, png));
    EXPECT_EQ(juce::ImageFileFormat::loadFrom(png).getBounds(), juce::Rectangle<int>(0, 0, 1800, 968));
    ASSERT_TRUE(exportView(stage.place, folder.getChildFile("view.svg")));
    EXPECT_FALSE(exportView(stage.place, folder.getChildFile("view.bmp")));
    EXPECT_FALSE(exportView(stage.place, folder.getChildFile("none/view.png")));
}

} // namespace valveladder
