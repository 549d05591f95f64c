// A tier of the core links with those above it and nothing else: that this program exists is the test.
int main() {
    return 0;
}
