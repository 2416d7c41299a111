//! The one integration binary: it links once.
#![allow(unreachable_pub)]

/// Numbers of a tool by their addresses.
mod addresses;
/// Eccentric pins and screws by hand.
mod adjusters;
/// Every jaw of a tool in one table.
mod all_jaws;
/// Arc slots against the links they stand for; rollers by hand.
mod arc_slots;
/// Arrows between the folders of `src`, and what each may not do.
mod architecture;
/// Backlash that load takes up, by hand.
mod backlash;
/// Every problem that the reader of tool files can name.
mod bad_files;
/// Tools on a bench, by hand.
mod bench;
/// Curved cam faces: a disc through points, an ellipse, the ends of a face.
mod cam_faces;
/// Cams against linkages, by hand, and where they lift off or hold themselves.
mod cams;
/// Whether a hand can do the job, and the tools as made: the first lines of every command.
mod can_do;
/// Charts as a renderer sees them.
mod charts;
/// No circle between files.
mod circles;
/// The program through its arguments, files and exit codes.
mod cli;
/// The kernel against closed forms.
mod closed_form;
/// Tools, variants and grips side by side.
mod compare;
/// Arc slots, rollers and cams in what is printed and drawn.
mod contact_views;
/// Where dies meet, handles touch, and the hand opens the tool.
mod dies;
/// Where discs touch what they push.
mod disc_touches;
/// Drafts to be tuned, made from the demo tools.
mod drafts;
/// The JSON of `draw`, key by key.
mod draw_json;
/// Drawings true to scale, measured, and as a renderer sees them.
mod drawing;
/// What editors and shells are given.
mod editors;
/// Work estimated from size and strength.
mod estimates;
/// Every number of every file against the analysis, once.
mod every_number;
/// Every measure in every way to read it.
mod every_way;
/// Two runs at once, odd surroundings and names.
mod faults;
/// What a sketch gave, written down as numbers.
mod freeze;
/// Tooth sectors against closed forms and linkages.
mod gears;
/// How much tools give, against direct stiffness, closed forms and differences.
mod give;
/// Peaks of the hand force and stalls between the steps of the stroke.
mod hand_peaks;
/// Peaks and stalls where the work has very many rows.
mod hand_rows;
/// Handles where forces act.
mod handle_cuts;
/// How the finished work comes out.
mod heights;
/// The same tool turned, mirrored, scaled, in other units.
mod invariance;
/// Where the force that the work asks for jumps.
mod jumps;
/// The listing of keys against the reader.
mod keys;
/// A lever on one pin, for what is calculated by hand.
mod level;
/// How many strokes a tool lasts.
mod life;
/// Toggles, contact, change points, and motions that cannot be.
mod limits;
/// Free-body sheets and factors.
mod loads;
/// The JSON of `loads`, key by key.
mod loads_json;
/// Where on the stroke a position is.
mod locate;
/// Where friction locks a tool is known.
mod locking;
/// Springs of tools that are made, and of tools that are changed.
mod made_springs;
/// Tools as made that meet a stop before shut.
mod made_stops;
/// Strength factors and margins of made tools.
mod made_tools;
/// Margins to a toggle and offsets of jaw points, by hand.
mod margins;
/// Measures against dense sampling.
mod measures;
/// Mechanisms with a closed-form answer.
mod models;
/// The tool in motion, as a file.
mod motion;
/// The tool in motion, in a browser.
mod motion_seen;
/// Several jaws, each by name.
mod nests;
/// Every command on one file: one verdict.
mod one_verdict;
/// What takes the opposite of the push, and what a part then bears.
mod palm;
/// Where the peaks of sampled tools are looked for.
mod peaks_of_samples;
/// Who can use a tool, once and again and again.
mod people;
/// Made tools that fail, in the pictures of samples.
mod pictures_of_samples;
/// Plates in whole runs: set from outside, drawn to scale, weighed.
mod plates;
/// Points read off a picture, in a browser, and drawn over it.
mod points_seen;
/// Reports in a browser, as they are printed and on a phone.
mod printed_seen;
/// Random linkages against work and closure.
mod properties;
/// Published values of textbooks and handbooks.
mod published;
/// Ratchets by hand.
mod ratchets;
/// README, starters and demo data do what they say.
mod readme;
/// Rewriting what the repository shows, on purpose.
mod renew;
/// The design review, as a file and in a browser.
mod report;
/// Pins of rollers by hand.
mod roller_pins;
/// Plates that run into each other, by hand.
mod room_to_move;
/// Free-body sheets against energy and hand calculation.
mod sheets;
/// Tests that cannot look here.
mod skipped;
/// Parts that slide, in closed form.
mod sliding;
/// Springs of wire: rate, stress and room in a tool, and what can be bought.
mod springs_bought;
/// Springs at both ends of the stroke, and whether they open the tool.
mod springs_seen;
/// Stops by hand: where they are met and what they carry.
mod stops;
/// Factors of pins and parts under loads written down by hand.
mod strength;
/// Which of several strokes is taken, and where there is none.
mod strokes;
/// Colour, width, plots and watching.
mod terminal;
/// Numbers that follow others.
mod ties;
/// Tolerances, stack-ups, samples.
mod tolerance;
/// Good tool files and what they mean.
mod tool_files;
/// Forces of teeth and their form factors, by hand.
mod tooth_strength;
/// The fit of a trial finds again what readings were made with.
mod trials;
/// Dimensions chosen within their ranges.
mod tune;
/// Tuning against a scan, and on one thread and two.
mod tune_scan;
/// Blocks and closed forms against the whole matrix.
mod two_paths;
/// What was once said wrongly, and where it is held.
mod verdict_table;
/// Words that users read.
mod wording;
/// The share of made tools that meet all demands.
mod yields;
