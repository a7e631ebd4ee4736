// Prints docs/methods.md: make_methods > docs/methods.md
#include <cstdio>

#include "methods_page.hpp"

int main() { std::fputs(methods_page::page().c_str(), stdout); }
