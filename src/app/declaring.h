#pragma once

#include "tierproof/app/judging.h"

namespace tierproof {

/// Draws up the declaration in every language of the label, by the list that the cake asks for or else the shorter lawful one, and
/// judges it. @pre the cake is composed
void declare_cake(const Session& session, Judgement& judgement);

/// Works out what stands on the label beside the list (quantities, net quantity, date, lot), and judges whether it carries what the
/// way of selling asks for. @pre the life is judged
void declare_particulars(const Session& session, Judgement& judgement);

}  // namespace tierproof
