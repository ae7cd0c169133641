// A command of the command line: which question it asks and which flags fill the request. A command
// holds no arithmetic and no word of gas; a value goes into the request as it was typed and is read
// behind the door.
#pragma once

#include <string>
#include <vector>

namespace bellhole::cli {

/// What a flag puts into the request under its key.
enum class Takes {
  text,      ///< the text as typed: "55psi"
  texts,     ///< may be given again; a list of texts
  number,    ///< a plain number
  whole,     ///< a whole number
  yes,       ///< no value: true when given
  contents,  ///< a file of text, whole: a table that is read behind the door
  document,  ///< a file, loaded as `kind`; the request gets its hash. A word that is no file goes
             ///< in as typed
};

struct Flag {
  std::string name;  ///< "--size"
  std::string key;   ///< "size"
  Takes takes = Takes::text;
  std::string help;
  std::string kind = {};  ///< of a document: "profile", "tools", "plan"
};

struct Command {
  std::string name;  ///< "squeeze", also the question's name
  std::string help;
  bool network = false;  ///< a NETWORK file comes first
  std::vector<Flag> flags;
  bool paper = false;             ///< has --pdf FILE and --paper
  bool geography = false;         ///< has --export FILE.gpkg|.geojson
  bool table = false;             ///< has --csv FILE
  std::string picture = {};       ///< has --svg FILE: what it shows
  bool solid = false;             ///< has --vtk FILE; the request then asks for the mesh
  bool network_may_miss = false;  ///< the NETWORK may be left out where a flag names what is asked
};

/// All commands that ask a question, in the order of the help.
std::vector<Command> commands();

// One a file in commands/.
Command squeeze_command();
Command pace_command();
Command feeds_command();
Command flow_command();
Command plan_command();
Command check_command();
Command time_left_command();
Command rehearse_command();
Command bypass_command();
Command watch_command();
Command escape_command();
Command vent_command();
Command pressure_test_command();
Command purge_command();
Command join_command();
Command repressurise_command();
Command relight_command();
Command timeline_command();
Command print_line_command();
Command flatten_command();
Command gauge_command();
Command refit_command();
Command pipes_command();

}  // namespace bellhole::cli
