//! The plain, serialisable answer: all that the outputs may see.
//!
//! Every number in these types is already in the report's own units (see [`UnitNames`]); a value
//! that does not exist (at a toggle, or without a `[work]` table) is `None`, which JSON shows as
//! null and tables as an empty cell. No infinity and no NaN ever reaches these types.

mod build;
mod cams;
mod check;
mod check_events;
mod check_springs;
mod compare;
mod contacts;
mod drawing;
mod drawing_build;
mod drawing_forces;
mod drawn_borders;
mod drawn_cams;
mod drawn_gears;
mod drawn_ratchet;
mod entered;
mod gears;
mod handle;
mod heights;
mod jaws;
mod job;
mod keys;
mod life;
mod loads;
mod loads_build;
mod loads_cams;
mod loads_factors;
mod loads_joints;
mod measured;
mod motion;
mod operators;
mod parts;
mod parts_notes;
mod parts_slots;
mod people;
mod place;
mod plates;
mod ratchet;
mod review;
mod room;
mod setup;
mod show;
mod spot;
mod springs;
mod stops;
mod stroke;
mod stroke_notes;
mod tolerance;
mod trial;
mod tune;
mod verdict;
mod wound;

pub use crate::model::Digits;
pub use build::stroke_report;
pub use cams::CamLine;
pub use check::{CheckReport, GripLine, PartLine, check_report};
pub use check_events::EventLine;
pub use check_springs::{OpensLine, SpringLine};
pub use compare::{ColumnReport, CompareReport, FileEstimate, RowReport, compare_report};
pub use drawing::{
    DrawingReport, DrawnArc, DrawnBorder, DrawnCam, DrawnForce, DrawnGrip, DrawnHandle, DrawnJaw,
    DrawnKind, DrawnPart, DrawnPin, DrawnPoint, DrawnPose, DrawnPosition, DrawnRatchet, DrawnSlot,
    DrawnSpring, DrawnStep, DrawnStop, DrawnStress, DrawnTouch,
};
pub use drawing_build::drawing_report;
pub use drawn_gears::{DrawnGears, DrawnRim};
pub use gears::{GearsLine, GearsReport, ToothedLine};
pub use handle::{HandleGrip, HandleReport};
pub use heights::HeightLine;
pub use jaws::{EndOfStroke, JawAtGrip, JawSummary};
pub use job::{GroupLine, JobGrip, JobReport, MethodAtGrip, MethodLine};
pub use keys::{KeyLine, KeyUnits, KeysReport, TableKeys};
pub use life::{LifeLine, LifeReport, life_report, strokes_text};
pub use loads::{
    BaseReport, CamReport, CaseReport, FactorReport, ForceReport, GiveReport, LinkReport,
    LoadsReport, PinReport, PressReport, SheetReport, SlotReport, SpringReport,
};
pub use loads_build::loads_report;
pub use measured::{MeasuredPoint, MeasuredReport};
pub use motion::{Carried, Jump, JumpTo, MotionReport, ToolInMotion, motion_report, motion_rows};
pub use operators::{Able, AblePoint, OperatorsLine, OperatorsReport};
pub use parts::{Blank, CutLine, CutPiece, PartRow, PartsReport, SheetRow, parts_report};
pub use people::{PeopleReport, people_report};
pub use plates::{PlateLine, PlatesReport, WeightLine, plates_report};
pub use ratchet::{RatchetLine, ToothLine};
pub use review::{InputText, MODEL_LIMITS, MarginLine, ReviewReport, ToolReview, margin_line};
pub use room::{PairLine, PinchLine, RoomReport, room_report};
pub use setup::{AdjusterReport, Covered, SettingReport, SetupReport, setup_report};
pub use show::Source;
pub use springs::{Sought, SpringChoices, SpringsReport, springs_report};
pub use stops::{SharedLine, StopLine, StopLoadLine};
pub use stroke::{
    Checks, CurvePlace, DemandOnCurve, DemandResult, GripReport, HandPeakReport, JawAt, JawForces,
    LimitReport, Meeting, Place, PositionReport, StrokeReport, Turning, UnitNames, WorkReport,
};
pub use tolerance::{MeasureSpread, ToleranceReport, tolerance_report};
pub use trial::{
    FittedReport, Laid, LaidCurve, PinFriction, Reading, TrialCurve, TrialReport, TrialRow,
    TrialSheet, trial_report, trial_sheet,
};
pub use tune::{Change, DemandChange, TuneReport, tune_report};
pub use verdict::{
    EstimateLine, HandVerdict, MadeVerdict, RepeatedVerdict, ShortLine, VerdictReport,
};
pub use wound::{WoundCheck, WoundReport, wound_report};
