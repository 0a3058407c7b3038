# The rooms, in the order of the arrows: a room names those whose headers it may include.
tierproof_room(NAME units
  SOURCES
    units/share.cpp
    units/time.cpp
    units/words.cpp)
tierproof_room(NAME text ROOMS units LIBRARIES Poco::Foundation Poco::JSON ${UTF8PROC_LIBRARY}
  APART text/json_gate.cpp
  SOURCES
    text/canonical.cpp
    text/csv.cpp
    text/fields.cpp
    text/json.cpp
    text/json_gate.cpp
    text/number.cpp
    text/data_table.cpp
    text/utf8.cpp)
tierproof_room(NAME sums ROOMS units
  APART sums/cross_contact.cpp
  SOURCES
    sums/additive_text.cpp
    sums/additives_present.cpp
    sums/address.cpp
    sums/allergy.cpp
    sums/check_additives.cpp
    sums/check_packs.cpp
    sums/check_sulphites.cpp
    sums/composition.cpp
    sums/composition_graph.cpp
    sums/cross_contact.cpp
    sums/date_mark.cpp
    sums/declaration.cpp
    sums/declaration_check.cpp
    sums/egg_mix.cpp
    sums/egg_step.cpp
    sums/energy.cpp
    sums/freezing.cpp
    sums/hand_over.cpp
    sums/heat.cpp
    sums/label_list.cpp
    sums/label_runs.cpp
    sums/languages.cpp
    sums/label_shares.cpp
    sums/levels.cpp
    sums/named_quantities.cpp
    sums/net_quantity.cpp
    sums/nutrition_need.cpp
    sums/nutrition_rounding.cpp
    sums/plain_checks.cpp
    sums/probe.cpp
    sums/quantity.cpp
    sums/reference_dose.cpp
    sums/retention.cpp
    sums/series.cpp
    sums/shelf_life.cpp
    sums/statements.cpp
    sums/stay.cpp
    sums/terms.cpp
    sums/time_out.cpp
    sums/troubles.cpp
    sums/type_size.cpp
    sums/why.cpp
    sums/words.cpp)
tierproof_room(NAME kitchen ROOMS text units
  SOURCES
    kitchen/bodies.cpp
    kitchen/edges.cpp
    kitchen/note.cpp
    kitchen/state.cpp)
tierproof_room(NAME rules ROOMS sums text units LIBRARIES ${UTF8PROC_LIBRARY}
  APART rules/additive_mechanisms.cpp rules/allergen_mechanisms.cpp rules/list_mechanisms.cpp rules/mechanisms.cpp rules/other_mechanisms.cpp
  SOURCES
    rules/additive_mechanisms.cpp
    rules/allergen_mechanisms.cpp
    rules/checker.cpp
    rules/claims.cpp
    rules/fit.cpp
    rules/list_mechanisms.cpp
    rules/mechanisms.cpp
    rules/other_mechanisms.cpp
    rules/parameters.cpp
    rules/particular_mechanisms.cpp
    rules/reader.cpp
    rules/terms.cpp)
tierproof_room(NAME imports ROOMS text units
  SOURCES
    imports/cells.cpp
    imports/column_map.cpp
    imports/logger_file.cpp
    imports/rows.cpp)
tierproof_room(NAME log ROOMS text units LIBRARIES OpenSSL::Crypto
  SOURCES
    log/entry.cpp
    log/hash.cpp
    log/proof.cpp
    log/tree.cpp)
tierproof_room(NAME store ROOMS kitchen log text units LIBRARIES SQLite::SQLite3
  APART store/sqlite/schema.cpp
  SOURCES
    store/named_bytes.cpp
    store/note_of.cpp
    store/sqlite/database.cpp
    store/sqlite/log_rows.cpp
    store/sqlite/schema.cpp
    store/sqlite/sqlite_store.cpp
    store/sqlite/verify.cpp
    store/sqlite/views.cpp)
tierproof_room(NAME papers ROOMS kitchen sums text units LIBRARIES ${HPDF_LIBRARY} Freetype::Freetype ${UTF8PROC_LIBRARY} ${XLSXWRITER_LIBRARY}
  APART papers/table.cpp
  SOURCES
    papers/allergen_sheet.cpp
    papers/cake_record.cpp
    papers/cake_record_pages.cpp
    papers/chart.cpp
    papers/font.cpp
    papers/label.cpp
    papers/layout.cpp
    papers/lines.cpp
    papers/pages.cpp
    papers/pdf.cpp
    papers/png.cpp
    papers/record_type.cpp
    papers/sheet.cpp
    papers/spreadsheet.cpp
    papers/stocks.cpp
    papers/svg.cpp
    papers/table.cpp
    papers/text_check.cpp)
tierproof_room(NAME app ROOMS store papers imports rules kitchen log sums text units LIBRARIES date::date-tz OpenSSL::Crypto
  APART app/table_reader.cpp
  SOURCES
    app/answers.cpp
    app/base64.cpp
    app/change_effects.cpp
    app/changing.cpp
    app/checking.cpp
    app/cold.cpp
    app/confirming.cpp
    app/content_json.cpp
    app/contents.cpp
    app/declaring.cpp
    app/data.cpp
    app/deciding.cpp
    app/differences.cpp
    app/documents.cpp
    app/erased.cpp
    app/erasing.cpp
    app/freezing.cpp
    app/going_wrong.cpp
    app/issuing.cpp
    app/judging.cpp
    app/label_contents.cpp
    app/life.cpp
    app/lists.cpp
    app/lists_of_events.cpp
    app/lists_of_things.cpp
    app/logger_files.cpp
    app/looking.cpp
    app/making.cpp
    app/ordering.cpp
    app/parts.cpp
    app/readings.cpp
    app/recording.cpp
    app/series.cpp
    app/troubles.cpp
    app/session.cpp
    app/stores.cpp
    app/sheets.cpp
    app/table_reader.cpp
    app/taking_in.cpp
    app/wall_clock.cpp
    app/whole_kitchen.cpp)
tierproof_room(NAME cli ROOMS app LIBRARIES CLI11::CLI11
  APART cli/commands_lists.cpp
  SOURCES
    cli/command_table.cpp
    cli/commands_cakes.cpp
    cli/commands_orders.cpp
    cli/commands_going_wrong.cpp
    cli/commands_in_and_out.cpp
    cli/commands_lists.cpp
    cli/commands_records.cpp
    cli/commands_setting_up.cpp
    cli/commands_sheets.cpp
    cli/commands_stores.cpp
    cli/commands_temperatures.cpp
    cli/commands_working.cpp
    cli/door.cpp)
