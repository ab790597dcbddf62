#include "failure.h"

#include <fmt/format.h>

#include <exception>
#include <new>

#include "commands.h"
#include "report/staging.h"
#include "units/problem.h"

namespace boughlight::cli {

std::string complaint(const std::string& text) {
  return "boughlight: " + text + "\n";
}

Failure current_failure() {
  try {
    throw;
  } catch (const InputError& error) {
    const std::size_t count = error.problems().size();
    return {fmt::format("{}\n", error.what()) +
                complaint(fmt::format("{} {} in the input; nothing was computed", count,
                                      count == 1 ? "mistake" : "mistakes")),
            kBadInput};
  } catch (const CallError& error) {
    return {complaint(error.what()), kBadInput};
  } catch (const OutputError& error) {
    return {complaint(error.what()), kNoOutput};
  } catch (const std::bad_alloc&) {
    return {complaint("there is not enough memory for this; a larger --spacing needs less"), kNoOutput};
  } catch (const std::exception& error) {
    return {complaint(fmt::format("the work had to stop and there is no result: {}", error.what())),
            kNoOutput};
  }
}

}  // namespace boughlight::cli
