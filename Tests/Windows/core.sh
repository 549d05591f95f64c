#!/usr/bin/env bash
# The core's tests for Windows under Wine.
#   core.sh BUILD TESTS
source "$(dirname "${BASH_SOURCE[0]}")/wine.bash" "$1"
needs "$2"
# Links are for administrators on Windows. Trials of many players hold nothing of a system's own, and take minutes each here.
wine "$2" --gtest_brief=1 "--gtest_filter=-FileBytes.ALinkStaysALink:FindingsPower.*:FindingsCoverage.*:FindingsIdentifiable.*:Claims*"
