//! Follows the quilt and what is chosen: counts, lists, sorts, and lays an arrangement as one step.

use std::sync::Arc;

use geometry::Block;
use layout::pairings::{Area, Classic, PairingError, arrange, lay};
use layout::{BlockId, Design, Edit};

use super::catalogue::Catalogue;
use super::list::{Item, List, Source};
use super::session::{Choices, Pace, PairingsAction, PairingsSession, Reach, WHOLE, Wish};
use super::sifting::{SiftState, Sifted, Sifting};
use crate::window::session::Room;
use crate::window::studio::Studio;

/// Columns and rows before the view says how many there are.
const SHAPE: (usize, usize) = (4, 3);

/// What is counted and listed now.
#[derive(Debug, Default)]
pub struct Explorer {
    /// Grows with every other catalogue.
    number: u64,
    counted: Option<Counted>,
    list: Option<(Wish, List)>,
    /// The one that is chosen; kept also when it is out of view.
    chosen: Option<Item>,
    shape: Option<(usize, usize)>,
    sifting: Sifting,
}

/// The arrangements of a block as it was chosen, or why there are none.
#[derive(Debug)]
struct Counted {
    id: BlockId,
    block: Arc<Block>,
    choices: Choices,
    catalogue: Result<Catalogue, PairingError>,
}

impl Counted {
    fn is_of(&self, id: BlockId, block: &Arc<Block>, choices: &Choices) -> bool {
        let same = Arc::ptr_eq(&self.block, block) || self.block == *block;
        same && self.id == id && self.choices == *choices
    }
}

impl Explorer {
    /// Follows the quilt and the session. `wake` is called from another thread when a survey is done.
    pub(crate) fn follow(&mut self, design: &Design, session: &PairingsSession, wake: impl Fn() + Send + 'static) {
        let Some(block) = session.block_of(design) else { return };
        let Ok(def) = design.block(block) else { return };
        let (choices, drawn) = (&session.choices, def.block());
        if !self.counted.as_ref().is_some_and(|counted| counted.is_of(block, drawn, choices)) {
            self.number += 1;
            self.counted = Some(Counted {
                id: block,
                block: Arc::clone(drawn),
                choices: choices.clone(),
                catalogue: Catalogue::new(drawn, choices),
            });
            (self.list, self.chosen) = (None, None);
        }
        let Some(Counted { catalogue: Ok(catalogue), .. }) = &self.counted else { return };
        let wish = session.wish;
        let news = self.sifting.follow((self.number, catalogue), wish, wake);
        if news || self.list.as_ref().is_none_or(|(of, _)| *of != wish) {
            self.list_anew(wish);
            // Places in another list mean something else.
            self.chosen = None;
        }
    }

    /// Lists what is wished for, or everything until that is there.
    fn list_anew(&mut self, wish: Wish) {
        let Some(Counted { catalogue: Ok(catalogue), .. }) = &self.counted else { return };
        let Ok(browser) = catalogue.browser() else { return };
        let source = match self.sifting.sifted(self.number, wish) {
            Some(sifted) => Source::Some(Arc::clone(browser), Arc::clone(&sifted.numbers)),
            None => Source::All(Arc::clone(browser)),
        };
        let shape = self.shape.unwrap_or(SHAPE);
        self.list = Some((wish, List::new(source, catalogue.measures().clone(), shape)));
    }

    /// The block, with its arrangements or why there are none.
    #[must_use]
    pub fn catalogue(&self) -> Option<(BlockId, Result<&Catalogue, &PairingError>)> {
        self.counted.as_ref().map(|counted| (counted.id, counted.catalogue.as_ref()))
    }

    /// A number that is another one for other choices.
    #[must_use]
    pub const fn number(&self) -> u64 {
        self.number
    }

    /// The list.
    #[must_use]
    pub fn list(&self) -> Option<&List> {
        self.list.as_ref().map(|(_, list)| list)
    }

    /// How far sorting and filtering are.
    #[must_use]
    pub fn sift_state(&self, wish: Wish) -> SiftState {
        self.sifting.state(self.number, wish)
    }

    /// What was sorted and filtered.
    #[must_use]
    pub fn sifted(&self, wish: Wish) -> Option<&Sifted> {
        self.sifting.sifted(self.number, wish)
    }

    /// The arrangement that is chosen.
    #[must_use]
    pub const fn chosen(&self) -> Option<&Item> {
        self.chosen.as_ref()
    }

    fn on_list(&mut self, what: impl FnOnce(&mut List)) {
        if let Some((_, list)) = &mut self.list {
            what(list);
        }
    }

    fn pick(&mut self, at: u128) {
        if let Some(item) = self.list().and_then(|list| list.item(at)) {
            self.chosen = Some(item.clone());
        }
    }

    fn step(&mut self, pace: Pace) {
        let Some((_, list)) = &mut self.list else { return };
        let from = self.chosen.as_ref().map(|item| item.at);
        let (columns, rows) = list.shape();
        let [columns, page] = [columns, columns * rows].map(|count| isize::try_from(count).unwrap_or(1));
        let next = match pace {
            Pace::Back => list.step(from, -1),
            Pace::On => list.step(from, 1),
            Pace::Up => list.step(from, -columns),
            Pace::Down => list.step(from, columns),
            Pace::PageUp => list.step(from, -page),
            Pace::PageDown => list.step(from, page),
            Pace::First => {
                list.jump(0);
                list.step(None, 0)
            }
            Pace::Last => {
                list.jump(WHOLE);
                list.last()
            }
        };
        if let Some(at) = next {
            self.pick(at);
        }
    }
}

impl Studio {
    /// Whether the explorer is what is shown.
    #[must_use]
    pub fn shows_pairings(&self) -> bool {
        self.session.room == Room::Set && self.session.pairings.open
    }

    /// Carries out what the view of the explorer asks for.
    pub fn pairings_action(&mut self, action: PairingsAction) {
        let session = &mut self.session.pairings;
        match action {
            PairingsAction::Show(open) => self.show_pairings(open),
            PairingsAction::Block(id) => session.block = Some(id),
            PairingsAction::Choose(choices) => session.choices = choices,
            PairingsAction::Wish(wish) => session.wish = wish,
            PairingsAction::Reach(reach) => session.reach = reach,
            PairingsAction::Lines(lines) => session.lines = lines,
            PairingsAction::Shape { columns, rows } => {
                self.explorer.shape = Some((columns, rows));
                self.explorer.on_list(|list| list.reshape(columns, rows));
            }
            PairingsAction::Scroll(rows) => self.explorer.on_list(|list| list.scroll(rows)),
            PairingsAction::Jump(millionths) => self.explorer.on_list(|list| list.jump(millionths)),
            PairingsAction::Pick(at) => self.explorer.pick(at),
            PairingsAction::Step(pace) => self.explorer.step(pace),
            PairingsAction::Lay => self.lay_chosen(),
            PairingsAction::LayClassic(classic) => self.lay_classic(classic),
            PairingsAction::Stop => self.explorer.sifting.stop(),
            PairingsAction::Again => self.explorer.sifting.again(),
        }
    }

    /// Shows the explorer, or the wall again. A selection is what is arranged first.
    fn show_pairings(&mut self, open: bool) {
        self.session.room = Room::Set;
        self.session.tool = crate::window::session::Tool::Select;
        self.session.camera = None;
        let selected = self.session.selection.len();
        let pairings = &mut self.session.pairings;
        pairings.open = open;
        if !open {
            self.explorer.sifting.stop();
            self.explorer.sifting.again();
            return;
        }
        pairings.reach = if selected > 0 { Reach::Selection } else { Reach::Quilt };
    }

    /// Follows the quilt while the explorer is looked at.
    pub fn follow_pairings(&mut self, wake: impl Fn() + Send + 'static) {
        if self.shows_pairings() {
            if self.session.selection.is_empty() {
                self.session.pairings.reach = Reach::Quilt;
            }
            self.explorer.follow(self.history.design(), &self.session.pairings, wake);
        }
    }

    /// What is counted and listed in the explorer.
    #[must_use]
    pub const fn explorer(&self) -> &Explorer {
        &self.explorer
    }

    fn lay_chosen(&mut self) {
        let Some((block, Ok(catalogue))) = self.explorer.catalogue() else { return };
        let Some(chosen) = self.explorer.chosen().map(|item| &item.arrangement) else {
            self.say("Choose an arrangement first: click one, or go to it with the arrows");
            return;
        };
        let edit = self.pairing_area().and_then(|area| {
            arrange(self.design(), catalogue.states(), block, chosen, area).map_err(|error| error.to_string())
        });
        self.lay_pairing(edit);
    }

    fn lay_classic(&mut self, classic: Classic) {
        let Some((block, Ok(catalogue))) = self.explorer.catalogue() else { return };
        let states = catalogue.free();
        let edit = self.pairing_area().and_then(|area| {
            let found = classic.states(states, area.rows, area.columns).map_err(|error| error.to_string())?;
            let at = |row: u16, column: u16| found[usize::from(row) * usize::from(area.columns) + usize::from(column)];
            lay(self.design(), states, block, area, at).map_err(|error| error.to_string())
        });
        self.lay_pairing(edit);
    }

    /// The part of the quilt that is arranged: all of it, or what the selection reaches over.
    fn pairing_area(&self) -> Result<Area, String> {
        match self.session.pairings.reach {
            Reach::Quilt => Ok(Area::whole(self.design())),
            Reach::Selection => Area::about(self.design(), self.session.selection.iter().copied())
                .ok_or_else(|| "Select the blocks to arrange first, or lay it over the whole quilt".to_owned()),
        }
    }

    /// Lays an arrangement as one step, in the selected blocks only if it is for these.
    fn lay_pairing(&mut self, edit: Result<Edit, String>) {
        let mut places = match edit {
            Ok(Edit::Arrange(places)) => places,
            Ok(_) => return,
            Err(error) => {
                self.complain(error);
                return;
            }
        };
        if self.session.pairings.reach == Reach::Selection {
            places.retain(|(id, _)| self.session.selection.contains(id));
        }
        if places.iter().all(|(id, place)| self.design().place(*id).ok() == Some(place)) {
            self.say("These blocks lie like that already");
            return;
        }
        // The wall shows it; a word would lie over the list at every try.
        self.edit(&Edit::Arrange(places));
    }
}
