//! Published values: each machine is drawn as a tool file, read, solved and compared.
//!
//! "Force" says what the ratio counts: one handle's force, one foot's, or the torque at a crank.
//! Values marked * are not printed by the source but recomputed from its inputs; (m) means from
//! memory, the page not being at hand. Velocities come out of forces by virtual work.
//!
//! | Source | What | Expected | Ours |
//! | --- | --- | --- | --- |
//! | Baker and Haynes, *Engineering Statics*, exercise bank, pliers | Q, one handle, 300 N | 1200 N* | 1200.0 |
//! | same | pin A | 1428.0 N* | 1427.98 |
//! | Riley and Sturges, *Statics*, 2nd ed., 7-95 | jaw force of pipe pliers, one handle | 180.0 lb | 180.00 |
//! | same | Ax, Ay | 110.82, 166.84 lb | 110.82, 166.84 |
//! | Baker and Haynes, exercise bank, vice grips | A/P, one handle | 18.661* | 18.6612 |
//! | same | link CE/P | 26.130* | 26.1305 |
//! | Baker and Haynes, exercise bank, pruning shears | cutting force, one handle, 50 N | 232.50 N* | 232.500 |
//! | same | link DE | 318.20 N* | 318.198 |
//! | Univ. of Oklahoma, eCourses *Statics*, 6.4, bolt cutter | Q, one handle, 45 lb (half and whole tool) | 840 lb | 840.00 |
//! | same | By | 252 lb | 252.00 |
//! | Riley and Sturges, 7-87, can press | DE, CD, BD | 375, 601.8, 639.5 lb | 375.00, 601.82, 639.51 |
//! | same | force on the can, 100 lb on the lever | 588.7 lb | 588.668 |
//! | Hibbeler, *Statics and Dynamics*, 14th ed., 6-82 | CD, Ex, one handle, 5 lb | 39.70, 34.30 lb | 39.693, 34.286 |
//! | same | force on the shank | 36.0 lb (m) | 36.013 |
//! | Hibbeler, 14th ed., 6-80, toggle clamp | CD/F, Bx/F | 10.93, 5.46 | 10.928, 5.464 |
//! | same | E/F | 3.64 (m) | 3.6427 |
//! | OpenStax, *College Physics*, 9.5, nail puller | 50 N on the lever | 1250 N | 1250.0 |
//! | OpenStax, 9.5, wheelbarrow | hands, wheel (45 kg) | 32.4, 409 N | 32.426, 408.57 |
//! | same | hands, wheel (55 kg) | 29.1, 510 N | 29.064, 509.94 |
//! | exercise pages without author | tongs, metal shears, nutcracker | 60 lb, 160 N, 800 N | exact |
//! | Bedford and Fowler, *Statics*, 11.48 | jaw force from the ways, 8 mm to 1 mm | 8 F | 8.0000 F |
//! | Hibbeler and Gupta, *Statics*, 11.3 | xC, Cx (load (m)), one foot | 0.981 m, 114 N | 0.98104, 113.507 |
//! | engineeringtoolbox.com, bush press | one foot, 883 N at the knee | 3393 N | 3393.01 |
//! | *Machinery's Handbook* (m); Den Hartog, *Mechanics*, 31 | toggle, equal arms, one foot, 20 angles from 0.01° to 45° | 2864.789 … 0.5000 | 2864.7889 … 0.50000 |
//! | balance of the knee | toggle, unequal arms, one foot | F/(tan α + tan β) | to 1e-9 |
//! | standard derivation (m) | toggle with pin friction, r sin φ, one foot, both ways | F/(2 tan(α ± ε)) | to 1e-9 |
//! | Khurmi and Gupta, *Theory of Machines*, 7.1 | ωCD at 120 rpm | 4.8 rad/s | 4.7846 |
//! | same | vC (graphical) | 0.385 m/s | 0.38277 |
//! | same | toggles of the rocker | 23.682°*, 211.290°* | to 1e-13 rad |
//! | Khurmi and Gupta, 8.4 | ωRS, ωQR (graphical) | 3.79, 1.9 rad/s | 3.7871, 1.9800 |
//! | Bevan, *The Theory of Machines*, ch. 3, ex. 5 | vc, vcb (graphical) | 1.47, 1.26 ft/s | 1.4872, 1.2095 |
//! | Khurmi and Gupta, 7.10 | advantage in torque at efficiency 0.70 | 1.17 | 1.1629 |
//! | Khurmi and Gupta, 6.1 | ωBC; limit of the crank | 6.283 rad/s; 100.95°* | 6.3034; to 1e-14 rad |
//! | Khurmi and Gupta, 6.2, 7.2, 8.1; Bevan, ch. 3, ex. 3 | slider (graphical) | 0.82, 8.15, – m/s, 10.57 ft/s | 0.8341, 7.8613, 3.9306, 10.482 |
//! | same | rod (graphical) | 1.79, 3.4, 5.67 rad/s | 1.7961, 3.3855, 5.6425 |
//! | Hibbeler and Gupta, *Dynamics*, 16.11 | ωAB, ωBD | 5.30 rad/s | 5.3033 |
//! | Hibbeler and Gupta, *Dynamics*, 16.5 | ω from the rate of a distance | 0.62 rad/s | 0.61966 |
//! | Walsh, *Machining and Metalworking Calculations* | clamp lever, μ r | 254.516 N* | 254.516 |
//! | same, friction circle | r sin φ | 254.484 N* | 254.484 |
//! | Hibbeler, 14th ed., 8-127, bell crank, r sin φ | P at μ 0.411 (m); Rx, Ry | 41; 28.99, 78.99 lb | 41.000; 28.991, 78.991 |
//! | Hibbeler, 14th ed., 8-126, r sin φ | P clockwise, counter-clockwise | 42.2 (m), 41.162* lb | 42.177, 41.162 |
//! | Beer and Johnston, *Statics*, sample 8.6, pulley, μ r | raise, hold, across | 611, 409, 577 lb | 611.11, 409.09, 576.30 |
//! | same, r sin φ | raise, hold, across | 608.72*, 410.70*, 574.7* lb | 608.72, 410.70, 574.70 |
//! | Beer and Johnston, *Statics*, sample 8.4, wedge | raise, draw out | 423, 206 lb | 422.69, 205.50 |
//! | Baker and Haynes, 9.3, wedge under a block | raise, hold | 9.35, 0.436 lb | 9.3484, 0.43590 |
//! | Bevan, ch. 6, ex. 7, engine, μ r | torque without and with friction | 3.64, 3.06 ton ft | 3.6380, 3.0620 |
//! | same | efficiency | 84.17 % | 84.169 |

mod drawing;
mod friction;
mod hand_tools;
mod kinematics;
mod toggles;

pub use drawing::{Drawing, Reading, close};
