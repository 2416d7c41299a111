//! Published values. Each machine is drawn as a tool file, read, solved and compared; formulas and
//! figures that need no machine are checked where they stand, and listed here.
//!
//! "Force" says what the ratio counts: one handle's force, one foot's, or the torque at a crank.
//! Values marked * are not printed by the source but recomputed from its inputs; (m) means from
//! memory, the page not being at hand. Velocities come out of forces by virtual work.
//!
//! In this folder:
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
//! | Wentzell, *Machine Design*, 12.1 | pitch-line, separating, tooth force | 146.09, 53.17, 155.46 lb | 146.087, 53.171, 155.463 |
//! | Khurmi and Gupta, *Theory of Machines*, 12.1 | tooth force | 15.01 kN | 15.0087 |
//! | same, 12.3 | path, arc, ratio of contact | 52.3, 55.61 mm, 1.5 | 52.258, 55.612, 1.4752 |
//! | same, 12.4 | turn during a contact; sliding | 29.43°, 455.3 mm/s | 29.433, 455.27 |
//! | same, 12.6 | turn during a contact; sliding over rolling | 34.6°, 0.41 | 34.581, 0.40960 |
//! | exercise pages without author (`tests/gears.rs`) | rack and pinion press: hand, tooth | 36.00, 532.09 N* | 36.000, 532.089 |
//! | OpenStax, *College Physics*, 16.1, ex. 16.1 | force of a spring of 65.3 N/mm at 12 mm | 784 N | 783.60 |
//! | OpenStax, 16.1, ex. 16.2 | energy of a spring of 50.0 N/m at 0.150 m, as work of the hand | 0.563 J | 0.56250 |
//! | Khurmi and Gupta, 7.1, CD an arc slot | vC (graphical) | 0.385 m/s | 0.38277 |
//! | Riley and Sturges, 7-87, CD an arc slot | wall of the slot; can, 100 lb on the lever | 601.8, 588.7 lb | 601.82, 588.668 |
//! | Khurmi and Gupta, 6.2, the crank an eccentric on a roller | slider (graphical); pressure angle | 0.82 m/s; 10.182°* | 0.83411; 10.182 |
//!
//! Strength, beside the formulas (`src/strength/formulas`: `pin.rs`, `plate.rs`, `column.rs`,
//! `beam.rs`, `contact.rs`), and the first row's link again as a tool file (`tests/strength/parts.rs`):
//!
//! | Source | What | Expected | Ours |
//! | --- | --- | --- | --- |
//! | Beer, Johnston and DeWolf, *Mechanics of Materials*, sample 1.1 | pin in single shear; net section of its link | 6790, 2290 psi | 6790.6, 2285.7 |
//! | same | pin in double shear; bearing | 7640, 6000 psi | 7639.4, 6000.0 |
//! | same, sample 1.2 (τ (m)) | bolt of 27.640 mm; bearing of 28 mm | 100, 214 MPa | 99.997, 214.29 |
//! | same | net and gross section of the bar | 175, 175 MPa | 174.93, 174.93 |
//! | Hibbeler, *Mechanics of Materials*, 1.10 | double and single shear | 34.0, 17.7 MPa | 33.995, 17.684 |
//! | same, 1.13, 1.14 | double shear; washer and rod | 8 ksi; 4.55, 60 MPa | 7.994; 4.547, 60.008 |
//! | Levinson, *Statics and Strength of Materials*, 8.4 | rod, bolt, bar | 22 600, 25 500, 10 000 psi | 22 635, 25 465, 10 000 |
//! | Wentzell, *Machine Design*, 3.3 | pin that fails | 50 930 psi | 50 930 |
//! | Popov, *Engineering Mechanics of Solids*, 1.3 | bearing, pin | 18.86, 25.62 ksi | 18.856, 25.609 |
//! | same | bar, fork, bar | 17.89, 11.18, 12.93 ksi | 17.889, 11.180, 12.930 |
//! | MIL-HDBK-5 (m) | bolts AN3 to AN6 in single shear | 2125, 3680, 5750, 8280 lb | 2126, 3682, 5752, 8283 |
//! | Jindal, *Machine Design*, 13-1 | cotter in bending; rod | 103.8, 50 MPa | 103.81, 50.005 |
//! | Wentzell, 3.5 | slenderness, limit, Euler | 192, 118.74, 2464 lb | 192.00, 118.74, 2464.2 |
//! | Wentzell, 3.6 | slenderness, limit, Johnson over 2 | 67.08, 128.25, 35 116.5 lb | 67.077, 128.25, 35 116.5 |
//! | Levinson, 16.5 | Euler stress; force on the lever | 4520 psi, 177 lb | 4517.9, 177.42 |
//! | Beer, Johnston and DeWolf, 10.01 | square columns, factor 2.5 | 250, 500 kN | 249.58, 500.04 |
//! | same, sample 10.1 (inputs (m)) | Le/r; Euler load | 85.56, 12.5 kip | 85.533, 12.515 |
//! | same, sample 10.2 | Euler load | 62.1 kip | 62.113 |
//! | Jindal, 7-6 | hollow push rod | 3000 N | 3000.1 |
//! | Baker and Haynes, *Engineering Statics*, 10.4 | planks stacked and as an I | 62.4, 226 in⁴ | 62.391, 226.02 |
//! | Beer, Johnston and DeWolf, 4.01; sample 4.1 | moments of a bar and a tube | 30, 103.8 kip in | 30.000, 103.77 |
//! | Jindal, 6-5 | grip of a hand lever, 21.677 mm | 80 MPa | 80.000 |
//! | Wentzell, 3.2 | beam with a load in the middle | 20 250 psi | 20 250 |
//! | Boresi and Schmidt, *Advanced Mechanics of Materials*, 6th ed., 17.3 | two cylinders pressed together: pressure, shear | 1445, 433 MPa (chart) | 1447.0, 434.1 |
//! | same | tension behind the contact, sliding with 1/9 | 321.56 MPa | 321.56 |
//! | Wentzell, *Machine Design*, 12.3 | load of a tooth in bending, pinion and gear | 1900, 2315.5 lb | 1900.0, 2315.5 |
//! | Jindal, *Machine Design*, 25-3 | load of a tooth in bending | 16 110 N | 16 110 |
//!
//! Areas (`src/outline/moments.rs`):
//!
//! | Source | What | Expected | Ours |
//! | --- | --- | --- | --- |
//! | Hibbeler and Gupta, *Engineering Mechanics*, 10.5 | plate with a hole about its base | 101(10⁶) mm⁴ | 101.149(10⁶) |
//! | same, 10.6 and 10.8 | Z: Ix, Iy, Ixy | 2.90, 5.60, −3.00(10⁹) mm⁴ | to 1e-14 |
//! | same, 9.10 | centroid with a cut-out | −0.348, 1.22 m | −0.34783, 1.21739 |
//! | Baker and Haynes, 10.3 | ring about a diameter | 2.58(10⁶) | 2.58445(10⁶) |
//! | Boresi and Schmidt, *Advanced Mechanics of Materials*, 6th ed., 9.1 | frame of 50 × 50 mm, both edges | 106.2, −49.3 MPa | 106.182, −49.318 |
//! | same, 9.5 | clamp frame, T section, hollow edge | 221.6 MPa | 221.591 |
//! | Popov, *Engineering Mechanics of Solids*, 6.10 | bars of mean radius 250 and 75, both edges | 107.1, −93.7; 128.7, −81.0 MPa | 107.093, −93.681; 128.734, −81.031 |
//! | *Peterson's Stress Concentration Factors* (m), Mott fig. 3-34 | eye pulled by its pin, d/w 0.42, 0.25: Kt | 6 to 2 (chart) | 2.748, 4.506 |
//! | Singh, *Machine Design-I*, 4.1 | hole in a plate: Kt, thickness | 2.42, 6.05 mm | 2.4219, 6.055 |
//! | Beer, *Mechanics of Materials*, 2.12 | stepped plate: Kt (off a chart), load | 1.82, 36.3 kN | 1.845, 35.77 |
//! | Bhandari, *Design of Machine Elements*, 4.19 | hook, trapezoid | 94 828 N | 94 828 |
//! | same, 4.20 | link of round bar | 20.106 mm | its stress to 1e-4 |
//! | same, 4.21 | press frame, T section | 99.2 mm | 99.174 |
//!
//! Springs (`src/coils`: `helical.rs`, `torsion.rs`, `repeated.rs`; 8-9 again as a tool in `tests/springs_bought.rs`):
//!
//! | Source | What | Expected | Ours |
//! | --- | --- | --- | --- |
//! | Bhandari, *Design of Machine Elements*, 10.1 | wire (before rounding), free length, pitch | 6.625, 109.34, 12.149 mm | 6.62508, 109.3376, 12.14862 |
//! | same, 10.18 | one spring in another: forces, deflection | 1304.35, 695.65 N, 52.527 mm | 1304.348, 695.652, 52.5266 |
//! | same | stresses | 314.617, 262.181 MPa | 314.6167, 262.1806 |
//! | Jindal, *Machine Design*, 8-1 (print divides whole numbers) | rate, deflection, K_s, K_W | 16.204 N/mm*, 18.514 mm*, 1.0833*, 1.2525* | 16.2037, 18.5143, 1.08333, 1.2525 |
//! | same, 8-3 | hook: strength, load | 2060.5 MPa, 211.3 N | 2060.52, 211.32 |
//! | same, 8-6 | limit, load, deflection, solid | 686.9 MPa, 41.1 N, 30.457, 15.2375 mm | 686.86, 41.09, 30.457, 15.2375 |
//! | same, 8-7 | limit, load, rate, deflection; buckles | 992.7 MPa, 33.8 N, .496 N/mm, 68.20 mm | 992.66, 33.81, .49575, 68.199 |
//! | same, 8-8 (rate printed as 3.000) | rate, load | 3.086 N/mm*, 77.5 N | 3.0864, 77.5 |
//! | same, 8-9 | spring about a pin: moment, turns of body and legs | 497.25 N mm, .327, .0225 | 497.248, .32686, .02251 |
//! | same | legs as coils; coil wound up; play on the mandrel | .293, 13.46, .75 then .23 mm | .29270, 13.4645, .75, .2322 |
//! | same, 8-13 (amplitude and factor printed of whole numbers) | mean, amplitude, factor | 169.77, 96.09* MPa, 1.446* | 169.77, 96.09, 1.4460 |
//! | acxesspring.com, torsion springs | rate | 2.988 in lbf per turn | 2.98810 |
//! | Wentzell, *Machine Design*, 8.2 | coils, pitch, rate | 12.79, .14 in, 70 lb/in | 12.792, .13993, 70.000 |
//! | Shigley, sec. 10-5 | free length that never buckles on flat faces | 5.26 D | 5.26 |
//!
//! Work of common jobs (`src/jobs/mod.rs`), and the line that a trial is fitted with (`src/trial/squares.rs`):
//!
//! | Source | What | Expected | Ours |
//! | --- | --- | --- | --- |
//! | Sharma, *A Textbook of Production Engineering*, 2.1 | piercing and blanking a ring of 4 mm | 108.57, 226.2 kN | 108.573, 226.195 |
//! | same, 2.4 | blanking 25 × 30 mm out of 1.5 mm | 74.25 kN | 74.250 |
//! | same | energy of it | 27.84 J | 27.844 |
//! | same, 2.6 | a round cut, parallel edges | 50.27 kN | 50.27 |
//! | same | the same with 1 mm of shear | 23.8 kN | 23.81 |
//! | same, 2.12 | bending into a V | 145.24 kN | 145.236 |
//! | same, 2.11 | wiping round an edge | 111.25 kN | 111.256 |
//! | Kalpakjian and Schmid, *Manufacturing Engineering and Technology*, 14.1 | upsetting a disc | 45 MN | 45.34 |
//! | Mechanical Measurements (slides) | line through five points: slope, intercept | 1.5183, .3049 | 1.51829, .30488 |
//! | Jindal, *Machine Design*, ch. 8, A / d^m of music wire | against the least strengths of the standard, 0.3 to 5 mm | 2211 / d^0.145 MPa | 1 to 5.5 % below |
//!
//! Fatigue (`src/strength/formulas/fatigue.rs`):
//!
//! | Source | What | Expected | Ours |
//! | --- | --- | --- | --- |
//! | Shigley, ex. 6-3 | surface of 520 MPa, machined and forged | 0.860, 0.540 | 0.85992, 0.5397 |
//! | Wentzell, *Machine Design*, 5.2, 5.3 | pulsating bar: Soderberg, Goodman | 1.82, 1.65 in | 1.8198, 1.6473 |
//! | same, 5.5, 5.6 (its own slope) | notched, for ever and 100 000 times | 2.41, 2.80 | 2.4134, 2.7962 |
//! | Singh, *Machine Design-I*, 4.3, 4.4 | limit with a notch; plate with a hole | 45.50 MPa; 18.26 mm | 45.497; 18.257 |
//! | same, 4.5, 4.6 | stress for 100 000; bar for 10 000 strokes | 395.34 MPa; 20 mm | 395.343; 19.889 |
//! | same, 4.9 | strokes of a spring | 215 630 | 215 630 |
//! | Boresi and Schmidt, 16.1, 16.2 | crank; tube with a hole | 259.75 N; 484.5 N m | 259.746; 484.522 |
//!
//! Give (`tests/give/beams.rs`):
//!
//! | Source | What | Expected | Ours |
//! | --- | --- | --- | --- |
//! | Gere, *Mechanics of Materials*, table G-1, case 4 | cantilever | P L³/(3 E I) | to 1e-12 |
//! | Timoshenko, *Strength of Materials* (m) | quarter circle | π P R³/(4 E I) | to 1e-5 |
//! | Boresi and Schmidt, 9.9 | half a ring, turn and give of its ends | 0.0103 rad, 1.15 mm | 0.010300, 1.1475 |
//!
//! Tolerances (`tests/tolerance.rs`):
//!
//! | Source | What | Expected | Ours |
//! | --- | --- | --- | --- |
//! | ISO 2768-1:1989, table 1 | f, m, c, v in eight steps of size | the table | exact |
//! | Chase, *Basic Tools for Tolerance Analysis* (m) | worst case, root-sum-square | 0.0245, 0.01108 in | 0.02450, 0.01108 |
//! | JCGM 101:2008, 9.2 (m) | four rectangles: deviation, 95 % | 2.00, ±3.88 | both to 0.5 % (samples) |
//! | common practice, no source | ten of ±0.1 mm | ±1.0, ±0.316 mm | exact |
//!
//! Ergonomics (`src/limits`: `sets.rs`, `span.rs`, `reduced.rs`, `effort.rs`, `group.rs`, `repeated`; the first row again
//! as a hand limit in `tests/strength/cases.rs`):
//!
//! | Source | What | Expected | Ours |
//! | --- | --- | --- | --- |
//! | Mathiowetz et al. 1985 | 5th percentile, women of 60 to 64 | 171.2 N* | 171.19 |
//! | same | mean and 5th percentile, men of 30 to 34 | 541.8, 377.9 N* | 541.79, 377.89 |
//! | FAA HF-STD-001 (2003), exhibit 14.5.2.1 | hand grip, left and right | 44.8, 47.2 lb | 200, 208 N, as printed beside |
//! | MIL-STD-1472 (m) | momentary grip against the same | 1/0.8 of it | exact |
//! | EN 1005-3 (m) | power grip, rare and repeated | 125, 40 N | 125.0, 40.0 |
//! | Fransson and Winkel 1991 | less for each cm above the best span | 10 % | exact |
//! | NIOSH and Cal/OSHA 2004-164 | spans of two handles | 2 to 3½ in, 1 to 3 in | exact |
//! | same | able to do 120, 160, 200 N, women of 20 to 24 | 99.9, 99.1, 96.0 %* | 99.86, 99.12, 96.02 |
//! | same | the same, women of 60 to 64 | 99.7, 97.1, 84.2 %* | 99.74, 97.05, 84.25 |
//! | Radwin et al. 2015 | hand activity level at .5 Hz 20 %, .5 50 %, 1 50 %, .125 10 % | 3.472, 4.535, 6.139, .820* | 3.4719, 4.5352, 6.1389, 0.8197 |
//! | ACGIH 2001 | peak force 3 at HAL 4 | 0.50 | 0.5000 |
//! | Moore and Garg 1995 | Strain Index of three products | 54, 18, 6 | exact |
//! | Garg et al. 2017 (m) | Revised Strain Index, 5 a minute of 1.5 s, 8 h, at 0.3 and 0.53 | 4.58, 8.99* | 4.5786, 8.9861 |
//! | Bernard 2006 (Rohmert) | holding time at 0.2 to 0.8 of the strength | 6.5 … 0.383 min* | 6.5000 … 0.38281 |
//! | Potvin 2012 (m) | share of the strength at 0.01 to 0.5 of the time | 0.669 … 0.153 | 0.66915 … 0.15327 |

mod contacts;
mod drawing;
mod friction;
mod gears;
mod hand_tools;
mod kinematics;
mod springs;
mod toggles;

pub use drawing::{Drawing, Reading, close};

/// The guide for contributors says how many rows the tables above have.
#[test]
fn the_guide_counts_the_published_checks() {
    let table = |line: &&str| line.starts_with("//! | ");
    let heads = |line: &str| line.starts_with("//! | Source") || line.starts_with("//! | ---");
    let rows = include_str!("mod.rs").lines().filter(table);
    let count = rows.filter(|line| !heads(line)).count();
    let guide = include_str!("../../DEVELOPERS.md");
    assert!(
        guide.contains(&format!("({count} rows)")),
        "{count} rows in tests/published/mod.rs"
    );
}
