//! A bolted joint by the formulas of VDI 2230-1, as public descriptions of it print them.
//!
//! ```text
//! T = F · [ 0.16 P + 0.58 d2 μ + DKm μ/2 ]                       torque and preload
//! σ = F/As · √( 1 + 3 [ 3/2 · d2/dS · (P/(π d2) + 1.155 μ) ]² )    combined stress while it is tightened
//! ```
//!
//! μ is the friction of thread and head alike, or that of the thread where μK is said of the head apart; the prevailing torque of a
//! self-locking nut is taken off T. 3/2 stands for a section that is plastic all through (editions before
//! 2003 have 2, for the elastic one). Preload falls with friction, and so does the stress at a given torque: the
//! least friction is the worst for the bolt, the greatest for the joint. (Where that under the head is apart,
//! σ² is a sum of squares of two linear functions of one over the bracket: convex, so it is greatest at one end of the
//! thread's range, and both are tried.)

use locknut_graph::{Head, Thread};
use locknut_quantity::{Between, Exact};

/// A thread with the face under its head. Lengths are in base units.
#[derive(Clone, Debug)]
pub struct Joint {
    /// Pitch.
    pub pitch: Exact,
    /// Pitch diameter.
    pub pitch_diameter: Exact,
    /// The diameter that the stress area is of.
    pub stress_diameter: Exact,
    /// The diameter at which friction under the head acts.
    pub head_diameter: Exact,
    /// Stress area.
    pub area: Between,
}

/// A number with so many hundred-thousandths.
fn parts(parts: u32, of: u32) -> Exact {
    Exact::new(parts.into(), of.into())
}

impl Joint {
    /// Metric: d2 = d − 0.649519 P (ISO 724), dS = d − 0.938194 P (ISO 898-1). Unified: d2 alike,
    /// dS = D − 0.9743/n (ASME B1.1).
    pub fn of(thread: &Thread, head: &Head) -> Self {
        let (d, p) = (&thread.diameter, &thread.pitch);
        let (stress_diameter, area) = Self::stress_area(thread);
        Self {
            pitch: p.clone(),
            pitch_diameter: d - parts(649_519, 1_000_000) * p,
            head_diameter: (&head.bearing + &head.hole) * parts(1, 2),
            area,
            stress_diameter,
        }
    }

    /// The diameter of the stress area, and that area; no head is asked for.
    pub fn stress_area(thread: &Thread) -> (Exact, Between) {
        let stress = if thread.unified { parts(9743, 10_000) } else { parts(938_194, 1_000_000) };
        let diameter = &thread.diameter - stress * &thread.pitch;
        let square = Between::exactly(&(&diameter * &diameter * parts(1, 4)));
        (diameter, Between::pi().times(&square))
    }

    /// Torque for each unit of preload: `0.16 P + 0.58 d2 μ + DKm μK/2`.
    fn arm(&self, thread: &Exact, head: &Exact) -> Exact {
        parts(16, 100) * &self.pitch
            + parts(58, 100) * &self.pitch_diameter * thread
            + parts(1, 2) * &self.head_diameter * head
    }

    /// The preload that a torque brings about.
    pub fn preload(&self, torque: &Exact, friction: &Exact) -> Exact {
        self.preload_of(torque, friction, friction)
    }

    /// The same where the friction under the head is apart.
    pub fn preload_of(&self, torque: &Exact, thread: &Exact, head: &Exact) -> Exact {
        torque / self.arm(thread, head)
    }

    /// The torque that a preload takes.
    pub fn torque(&self, preload: &Between, friction: &Exact) -> Between {
        self.torque_of(preload, friction, friction)
    }

    /// The same where the friction under the head is apart.
    pub fn torque_of(&self, preload: &Between, thread: &Exact, head: &Exact) -> Between {
        preload.times(&Between::exactly(&self.arm(thread, head)))
    }

    /// Shear stress over tensile stress: `3/2 · d2/dS · (P/(π d2) + 1.155 μ)`; none for a thread without a diameter.
    fn shear(&self, friction: &Exact) -> Option<Between> {
        let lead = Between::exactly(&self.pitch)
            .over(&Between::pi().times(&Between::exactly(&self.pitch_diameter)))?;
        let angle = lead.plus(&Between::exactly(&(parts(1155, 1000) * friction)));
        let lever = Between::exactly(&(parts(3, 2) * &self.pitch_diameter))
            .over(&Between::exactly(&self.stress_diameter))?;
        Some(lever.times(&angle))
    }

    /// Combined stress over tensile stress: `√(1 + 3 […]²)`.
    fn twist(&self, friction: &Exact) -> Option<Between> {
        let shear = self.shear(friction)?;
        let three = Between::exactly(&Exact::from_integer(3.into()));
        let one = Between::exactly(&Exact::from_integer(1.into()));
        one.plus(&three.times(&shear).times(&shear)).root()
    }

    /// The combined stress at a preload, while it is tightened.
    pub fn stress(&self, preload: &Exact, friction: &Exact) -> Option<Between> {
        let tensile = Between::exactly(preload).over(&self.area)?;
        Some(tensile.times(&self.twist(friction)?))
    }

    /// The same where the shank also bears the prevailing torque of a self-locking nut: it twists by `3 M/(As dS)`, for a
    /// section that is plastic all through, as 3/2 is.
    pub fn stress_with(
        &self,
        preload: &Exact,
        friction: &Exact,
        prevailing: &Exact,
    ) -> Option<Between> {
        let three = Exact::from_integer(3.into());
        let tensile = Between::exactly(preload).over(&self.area)?;
        let by_nut = Between::exactly(&(&three * prevailing / &self.stress_diameter));
        let shear = tensile.times(&self.shear(friction)?).plus(&by_nut.over(&self.area)?);
        let shear = Between::exactly(&three).times(&shear).times(&shear);
        tensile.times(&tensile).plus(&shear).root()
    }

    /// The preload at which the combined stress comes to this.
    pub fn preload_at(&self, stress: &Exact, friction: &Exact) -> Option<Between> {
        self.area.times(&Between::exactly(stress)).over(&self.twist(friction)?)
    }

    /// The preload at which the tensile stress comes to this.
    pub fn load_at(&self, stress: &Exact) -> Between {
        self.area.times(&Between::exactly(stress))
    }
}
