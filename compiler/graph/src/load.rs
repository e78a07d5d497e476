//! Loads that pull along the fasteners of a set, and how one on the whole joint comes to each of them.
//!
//! Parts that stay plane turn about the middle of the fasteners. So each bears its even share, and as much more as it
//! stands away from the axis: `F = N/n + M·r / Σr²` (bolt groups in textbooks of machine design: Shigley, *Mechanical
//! Engineering Design*; from memory). About two axes at once that is `N/n + m·(S⁻¹ p)`, with `S` the sums of squares and
//! products of the places; on a circle the worst is `N/n + 2 M / (n r)`, however it is turned.

use locknut_finding::Span;
use locknut_quantity::{Between, Exact};
use num_traits::{Signed, Zero};

/// A load along the fasteners of a set, and what comes of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Carries {
    /// What is said of it.
    pub load: Load,
    /// What the one that bears most bears of it.
    pub share: Share,
}

/// How hard a load pulls along the fasteners of a set, at most.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Load {
    /// By how much.
    pub pull: Pull,
    /// What tips the joint besides, whichever way.
    pub moment: Exact,
    /// How many they are.
    pub count: u64,
    /// Where they stand.
    pub stand: Stand,
    /// As written: `40 kN shared at 60 mm off the middle`.
    pub written: String,
    /// Where it is said.
    pub span: Span,
}

/// A force along fasteners.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Pull {
    /// So much along each of them.
    Each(Exact),
    /// So much along all of them together.
    Whole(Exact, At),
}

/// Where the whole of a load pulls.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum At {
    /// In their middle.
    Middle,
    /// So far from it, to the right and down.
    Place(Exact, Exact),
    /// So far from it, whichever way.
    Around(Exact),
}

/// Where fasteners stand, as far as it is known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stand {
    /// Nobody says where.
    Unknown,
    /// Evenly on a circle of this radius, turned anyhow.
    Circle(Exact),
    /// At these places, to the right and down.
    Places(Vec<(Exact, Exact)>),
}

/// What the fastener that bears most bears of a load.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Share {
    /// What each of them bears of what pulls in the middle.
    pub even: Exact,
    /// What the worst of them bears more than that, because the joint is tipped; never less than it is.
    pub by_tipping: Exact,
    /// Which one that is, counted from 0; none where all bear alike, or it may be any.
    pub worst: Option<u16>,
}

/// Why nobody can tell how a load is shared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unshared {
    /// Nobody says where they stand.
    Nowhere,
    /// They stand in one line, or on one place: across it nothing holds the joint.
    InLine,
}

impl Share {
    /// All that the worst of them bears; never less than it is.
    pub fn all(&self) -> Exact {
        &self.even + &self.by_tipping
    }
}

impl Load {
    /// What tips the joint in whichever way: a moment, and a pull whose side nobody says.
    fn around(&self) -> Exact {
        match &self.pull {
            Pull::Whole(force, At::Around(off)) => force * off + &self.moment,
            Pull::Whole(_, At::Middle | At::Place(..)) | Pull::Each(_) => self.moment.clone(),
        }
    }

    /// What tips it in a way that is said, about both axes.
    fn aside(&self) -> Option<(Exact, Exact)> {
        match &self.pull {
            Pull::Whole(force, At::Place(right, down)) => Some((force * right, force * down)),
            Pull::Whole(_, At::Middle | At::Around(_)) | Pull::Each(_) => None,
        }
    }

    /// Whether anything tips the joint.
    pub fn tips(&self) -> bool {
        let aside = self.aside().is_some_and(|(x, y)| !x.is_zero() || !y.is_zero());
        aside || self.around().is_positive()
    }

    /// What the fastener that bears most bears.
    ///
    /// # Errors
    ///
    /// Where nobody can tell, with the reason.
    pub fn share(&self) -> Result<Share, Unshared> {
        let count = Exact::from_integer(self.count.max(1).into());
        let even = match &self.pull {
            Pull::Each(force) => force.clone(),
            Pull::Whole(force, _) => force / &count,
        };
        let none = Exact::zero();
        let (by_tipping, worst) = match &self.stand {
            _ if !self.tips() => (none, None),
            Stand::Unknown => return Err(Unshared::Nowhere),
            Stand::Circle(radius) => (self.on_circle(radius, &count)?, None),
            Stand::Places(places) => self.at_places(places)?,
        };
        Ok(Share { even, by_tipping, worst })
    }

    /// `2 M / (n r)`: of those on a circle one may stand just where the joint is tipped to.
    fn on_circle(&self, radius: &Exact, count: &Exact) -> Result<Exact, Unshared> {
        if self.count < 3 || !radius.is_positive() {
            return Err(Unshared::InLine);
        }
        let (x, y) = self.aside().unwrap_or_default();
        let two = Exact::from_integer(2.into());
        Ok((length(&x, &y) + self.around()) * two / (count * radius))
    }

    fn at_places(&self, places: &[(Exact, Exact)]) -> Result<(Exact, Option<u16>), Unshared> {
        let aside = self.aside().unwrap_or_default();
        let around = self.around();
        let places = from_middle(places);
        let levers = Levers::of(&places);
        let mut most: Option<(Exact, u16)> = None;
        for (at, place) in (0u16..).zip(&places) {
            let mut bears = levers.at(place, &aside).ok_or(Unshared::InLine)?;
            if around.is_positive() {
                let (x, y) = levers.whichever_way(place).ok_or(Unshared::InLine)?;
                bears += &around * length(&x, &y);
            }
            if most.as_ref().is_none_or(|(so_far, _)| bears > *so_far) {
                most = Some((bears, at));
            }
        }
        most.map(|(bears, at)| (bears, Some(at))).ok_or(Unshared::Nowhere)
    }
}

/// Where one stands of places that lie alike on both sides of both axes through their middle.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lever {
    /// How far to the right of the middle.
    pub right: Exact,
    /// How far down.
    pub down: Exact,
    /// The sum of squares of all to the right.
    pub squares_right: Exact,
    /// The sum of squares of all down.
    pub squares_down: Exact,
}

impl Load {
    /// How the one at a position is tipped; none where the axes cannot be told apart.
    pub fn lever(&self, position: u16) -> Option<Lever> {
        let Stand::Places(places) = &self.stand else { return None };
        let places = from_middle(places);
        let Levers { across, down, both } = Levers::of(&places);
        // Of those in a line it is told along it; across it nothing is borne.
        let told = both.is_zero() && (across.is_positive() || down.is_positive());
        let (right, below) = places.get(usize::from(position)).filter(|_| told)?.clone();
        Some(Lever { right, down: below, squares_right: across, squares_down: down })
    }
}

/// The sums of squares and products of places, measured from their middle.
struct Levers {
    across: Exact,
    down: Exact,
    both: Exact,
}

impl Levers {
    fn of(places: &[(Exact, Exact)]) -> Self {
        let sum = |of: fn(&(Exact, Exact)) -> Exact| places.iter().map(of).sum();
        Self { across: sum(|(x, _)| x * x), down: sum(|(_, y)| y * y), both: sum(|(x, y)| x * y) }
    }

    /// `S⁻¹ p`; none where they stand in a line.
    fn whichever_way(&self, (x, y): &(Exact, Exact)) -> Option<(Exact, Exact)> {
        let whole = &self.across * &self.down - &self.both * &self.both;
        (!whole.is_zero()).then(|| {
            let right = (&self.down * x - &self.both * y) / &whole;
            let down = (&self.across * y - &self.both * x) / &whole;
            (right, down)
        })
    }

    /// What one bears of a moment about both axes; of those in a line only along it.
    fn at(&self, place: &(Exact, Exact), (x, y): &(Exact, Exact)) -> Option<Exact> {
        if x.is_zero() && y.is_zero() {
            return Some(Exact::zero());
        }
        if let Some((right, down)) = self.whichever_way(place) {
            return Some(right * x + down * y);
        }
        let along = &self.across + &self.down;
        let in_line = &self.across * y == &self.both * x && &self.both * y == &self.down * x;
        let lever = &place.0 * x + &place.1 * y;
        (in_line && !along.is_zero()).then(|| lever / along)
    }
}

fn from_middle(places: &[(Exact, Exact)]) -> Vec<(Exact, Exact)> {
    let count = Exact::from_integer(places.len().max(1).into());
    let middle = |of: fn(&(Exact, Exact)) -> &Exact| places.iter().map(of).sum::<Exact>() / &count;
    let (x, y) = (middle(|place| &place.0), middle(|place| &place.1));
    places.iter().map(|place| (&place.0 - &x, &place.1 - &y)).collect()
}

/// `√(x² + y²)`, never less.
fn length(x: &Exact, y: &Exact) -> Exact {
    if x.is_zero() || y.is_zero() {
        return x.abs() + y.abs();
    }
    let square = Between::exactly(&(x * x)).plus(&Between::exactly(&(y * y)));
    // A sum of squares has a root.
    square.root().map_or_else(|| x.abs() + y.abs(), |root| root.high())
}
