// Ctrl-C and its like end the program at once, whatever it does: results appear all or none by themselves
// (report/staging.h).
#pragma once

namespace boughlight::cli {

// From here on an interrupt (also a hang-up, or being told to end) wipes the progress line and ends the
// program by that signal, as a shell expects; one that was ignored from outside stays ignored.
void end_on_interrupt();

// Text that wipes what a progress line left on the terminal, to be written when the program is interrupted;
// null: nothing. It must outlive its use.
void wipe_on_interrupt(const char* text);

}  // namespace boughlight::cli
