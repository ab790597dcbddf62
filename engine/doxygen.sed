# Plain comments as Doxygen reads them; see Doxyfile.
1s,^// (.*),/// @file\n/// \1,
s,^( *)// ?-{3}.*,,
s,^( {0\,16})//( |$),\1///\2,
s,^( {17\,})// ,\1///< ,
s,^([^"/]*[;\,{}(] *)// ,\1///< ,
